import { readFile } from 'node:fs/promises';
import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { PHOTO_SUBJECTS } from '../../core/tokens.js';
import { getIdOf } from '../../flow/names.js';
import { addPhoto, findPhoto, keepPhotos, removePhoto } from '../../flow/photos/photos.js';
import type { MadePhoto } from '../../ports/originals.js';
import { pathBack } from '../bench/pathBack.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { LARGEST_PHOTO_MB, MOST_AT_ONCE } from '../cells/photoCells.js';
import { writeAsAllowed } from '../change.js';
import type { PhotoDeps, WebDeps } from '../deps.js';
import { boundaryOf } from '../door/multipart.js';
import { pictureOf } from '../door/picture.js';
import { type Received, receiving, type Sending } from '../door/receive.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import type { Pages } from '../routes.js';
import { isFormToken } from '../signIn/session.js';
import { taken } from '../taken.js';
import { showUnit } from '../unit/unit.js';
import type { Viewer, WebEnv } from '../viewer.js';

/** Where photographs come in, are shown to whoever may see their unit, and are taken back. */
export function photoPages(pages: Pages, deps: WebDeps): void {
  const { photos } = deps;
  pages.post('/units/:tag/photos', async (c) => {
    if (!photos) throw new HTTPException(404);
    return receive(c, deps, photos, c.req.param('tag'));
  });
  pages.get('/units/:tag/photos/:photo', (c) => show(c, deps, 'sha256'));
  pages.get('/units/:tag/photos/:photo/small', (c) => show(c, deps, 'small'));
  pages.post('/units/:tag/photos/:photo/remove', async (c) => {
    const { tag, photo } = c.req.param();
    const fields = await fieldsOf(c);
    const viewer = c.get('viewer');
    const gone = await writeAsAllowed(deps, c, async (tx, entry) =>
      removePhoto(tx, await getIdOf(tx, 'unit', tag), photo, viewer.texts.photos.removedWhy, entry),
    );
    for (const hash of gone) await photos?.files.remove(hash);
    return c.redirect(backTo(viewer, fields.from, tag, 'photoGone'), 303);
  });
}

type Place = Context<WebEnv, '/units/:tag/photos/:photo'>;

/** A picture goes as a picture alone, whatever a browser would make of it; it is asked for anew each time, for it may be gone. */
async function show(
  c: Context<WebEnv>,
  { store, photos }: WebDeps,
  size: 'sha256' | 'small',
): Promise<Response> {
  const { tag, photo } = (c as Place).req.param();
  const found = await store.read((tx) => findPhoto(tx, tag, photo));
  if (!found || !photos) throw new HTTPException(404);
  return pictureOf(c, photos, found[size]);
}

/** A form of the bench goes back there, one of the page on which a service is logged to that page. */
const backTo = ({ fleet }: Viewer, from: string | undefined, tag: string, done: string): string =>
  from === 'service' || from === 'service-bench'
    ? `${pathOfUnit(tag)}/service?from=${from === 'service' ? 'unit' : 'bench'}&done=${done}#photos`
    : pathBack(fleet === null ? from : undefined, tag, done);

async function receive(c: Context<WebEnv>, deps: WebDeps, photos: PhotoDeps, tag: string): Promise<Response> {
  const viewer = c.get('viewer');
  const { texts } = viewer;
  let fields: Sending['fields'] = {};
  const work = async (): Promise<string> => {
    if (boundaryOf(c.req.header('content-type')) === null) throw new NotTaken(texts.photos.need);
    const into = {
      parts: photos.parts,
      mostFiles: MOST_AT_ONCE,
      mostMb: MOST_AT_ONCE * LARGEST_PHOTO_MB,
      mayCome: () => true,
    };
    const done = await receiving(c, into, async (sending) => {
      fields = sending.fields;
      if (!isFormToken(viewer.formToken, fields.token ?? '')) throw new HTTPException(403);
      await takeAll(c, deps, photos, tag, sending);
      return { isDone: true };
    });
    if (typeof done === 'string') throw new NotTaken(texts.photos.notReceived[done]);
    return backTo(viewer, fields.from, tag, 'photo');
  };
  return taken(c, fields, work, (after) => showUnit(deps)(c, tag, { ...after, fields: {} }));
}

/** All of them or none: what cannot be kept is told by its name. */
async function takeAll(
  c: Context<WebEnv>,
  deps: WebDeps,
  photos: PhotoDeps,
  tag: string,
  { files, fields }: Sending,
): Promise<void> {
  const viewer = c.get('viewer');
  if (files.length === 0) throw new NotTaken(viewer.texts.photos.need);
  const form = new EntryForm(fields, viewer);
  const said = {
    shows: form.choice('shows', PHOTO_SUBJECTS),
    showsPerson: form.isTicked('showsPerson'),
    takenBy: 'workshop',
  } as const;
  const made: MadePhoto[] = [];
  for (const file of files) made.push(await makeOne(c, photos, file));
  await keepPhotos(photos.files, made, (kept) =>
    writeAsAllowed(deps, c, async (tx, entry) => {
      const unitId = await getIdOf(tx, 'unit', tag);
      for (const one of kept) await addPhoto(tx, one, { unitId, ...said }, entry);
    }),
  );
}

async function makeOne(
  c: Context<WebEnv>,
  { maker }: PhotoDeps,
  { name, part }: Received,
): Promise<MadePhoto> {
  const { photos } = c.get('viewer').texts;
  const bytes = await readFile(part.path);
  if (bytes.length > LARGEST_PHOTO_MB * 1_000_000)
    throw new NotTaken(photos.notThis(name, photos.tooLarge(LARGEST_PHOTO_MB)));
  const made = await maker.make(bytes);
  if (typeof made === 'string') throw new NotTaken(photos.notThis(name, photos.faults[made]));
  return made;
}
