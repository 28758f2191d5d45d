import { expect, it } from 'vitest';
import type { WrittenLetter } from '../../src/mail/letter.js';
import { letterHtml } from '../../src/mail/letterHtml.js';

const evil = '</p><img src=x onerror="y">';
const letter: WrittenLetter = {
  language: 'pt',
  subject: evil,
  sender: evil,
  title: evil,
  blocks: [
    { kind: 'paragraph', text: evil },
    { kind: 'heading', text: evil },
    { kind: 'warning', text: evil, items: [evil] },
    { kind: 'rows', rows: [[evil, evil]] },
    { kind: 'list', title: evil, items: [evil] },
    {
      kind: 'entries',
      columns: [evil, evil],
      entries: [{ lead: evil, leadNote: evil, title: evil, lines: [evil], mark: evil }],
    },
    { kind: 'links', main: { label: evil, href: evil }, others: [{ label: evil, href: evil }] },
    { kind: 'cautions', title: evil, items: [evil] },
  ],
  signature: [evil],
  footnotes: [evil],
  stop: { label: evil, href: evil },
};

it('escapes what is typed in every part', () => {
  const html = letterHtml(letter);
  expect(html).not.toContain('<img');
  // Once for each place above, the sender and the subject twice over, the links' labels and pages.
  expect(html.match(/&lt;img src=x onerror=&quot;y&quot;&gt;/g)).toHaveLength(29);
});

it('names its language, fits a narrow page, knows light and dark, and loads nothing from elsewhere', () => {
  const html = letterHtml({ ...letter, blocks: [], stop: null });
  expect(html).toContain('<html lang="pt">');
  expect(html).toContain('width=device-width');
  expect(html).toContain('prefers-color-scheme:dark');
  expect(html).not.toMatch(/<img|<link|<script|@import|url\(|https?:/);
});

it('closes what it opens', () => {
  const open: string[] = [];
  for (const [, close, name = '', rest = ''] of letterHtml(letter).matchAll(
    /<(\/?)([a-z][a-z0-9]*)([^>]*)>/g,
  )) {
    if (/^(meta|br)$/.test(name) || rest.endsWith('/')) continue;
    if (close === '') open.push(name);
    else expect(open.pop()).toBe(name);
  }
  expect(open).toEqual([]);
});
