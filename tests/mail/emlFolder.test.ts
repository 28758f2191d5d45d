import { mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { simpleParser } from 'mailparser';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { emlFolder, emlName } from '../../src/mail/emlFolder.js';
import { outgoing } from './mailSamples.js';

let home: string;
let folder: string;
beforeEach(async () => {
  home = await mkdtemp(join(tmpdir(), 'outbox-'));
  folder = join(home, 'outbox');
});
afterEach(() => rm(home, { recursive: true, force: true }));

const name = '7f0e2c1a-0000-4000-8000-0123456789ab@bench.example.org.eml';

describe('emlFolder', () => {
  it('writes a whole mail, readable by its owner only, and nothing beside it', async () => {
    await emlFolder(folder).deliver(outgoing);
    expect(await readdir(folder)).toEqual([name]);
    expect((await stat(join(folder, name))).mode & 0o077).toBe(0);
    const mail = await simpleParser(await readFile(join(folder, name)));
    expect(mail.messageId).toBe(outgoing.messageId);
    expect(mail.text?.trim()).toBe('Hello Ada Madeup,');
  });

  it('repeats nothing when the same mail comes again', async () => {
    const mailer = emlFolder(folder);
    await mailer.deliver(outgoing);
    const before = await stat(join(folder, name));
    await mailer.deliver(outgoing);
    expect(await readdir(folder)).toEqual([name]);
    expect((await stat(join(folder, name))).ino).toBe(before.ino);
  });

  it('writes anew what says something else by now', async () => {
    const mailer = emlFolder(folder);
    await mailer.deliver(outgoing);
    await mailer.deliver({ ...outgoing, subject: 'Something else' });
    expect(await readdir(folder)).toEqual([name]);
    expect((await readFile(join(folder, name))).toString()).toContain('Subject: Something else');
  });

  it('gives the same bytes for the same mail', async () => {
    await emlFolder(folder).deliver(outgoing);
    await emlFolder(join(home, 'other')).deliver(outgoing);
    expect(await readFile(join(home, 'other', name))).toEqual(await readFile(join(folder, name)));
  });

  it('starts again over what a crash left half written', async () => {
    await emlFolder(folder).deliver({ ...outgoing, messageId: '<first@bench.example.org>' });
    await writeFile(join(folder, `.${name}.part`), 'half');
    await emlFolder(folder).deliver(outgoing);
    expect((await readdir(folder)).sort()).toEqual([name, 'first@bench.example.org.eml'].sort());
    expect((await readFile(join(folder, name))).toString()).toContain('Subject: Moss Hopper');
  });

  it('removes a mail with what a crash left of it, and minds neither a missing file nor a missing folder', async () => {
    const mailer = emlFolder(folder);
    await mailer.remove(outgoing.messageId);
    await mailer.deliver(outgoing);
    await writeFile(join(folder, `.${name}.part`), 'half');
    await mailer.remove(outgoing.messageId);
    expect(await readdir(folder)).toEqual([]);
    await mailer.remove(outgoing.messageId);
  });

  it('says when the folder cannot be written, and that trying again may help', async () => {
    await writeFile(folder, 'a file where the folder should be');
    await expect(emlFolder(folder).deliver(outgoing)).rejects.toMatchObject({
      code: 'disk-failed',
      permanent: false,
      hint: expect.stringContaining('room'),
    });
    await expect(emlFolder(folder).remove(outgoing.messageId)).rejects.toMatchObject({ code: 'disk-failed' });
  });

  it('leaves nothing under the name of a mail that could not be written whole', async () => {
    await mkdir(join(folder, `.${name}.part`), { recursive: true });
    await expect(emlFolder(folder).deliver(outgoing)).rejects.toMatchObject({ code: 'disk-failed' });
    expect(await readdir(folder)).toEqual([`.${name}.part`]);
  });

  it('refuses a mail that may not be sent before anything is written', async () => {
    await expect(emlFolder(folder).deliver({ ...outgoing, subject: 'a\r\nBcc: b' })).rejects.toMatchObject({
      code: 'mail-failed',
      permanent: true,
    });
    expect(await readdir(home)).toEqual([]);
  });
});

describe('emlName', () => {
  it('stays in its folder, and tells ids apart that differ only in signs or case', () => {
    const ids = [
      '<a@b.org>',
      '<A@b.org>',
      '<../../a@b.org>',
      '<.a@b.org>',
      '<a/@b.org>',
      '<a\\@b.org>',
      `<${'a'.repeat(300)}@b.org>`,
    ];
    const names = ids.map(emlName);
    expect(new Set(names.map((each) => each.toLowerCase())).size).toBe(ids.length);
    for (const each of names) expect(each).toMatch(/^[A-Za-z0-9_][A-Za-z0-9_.@-]{0,160}\.eml$/);
  });
});
