/** What takes a job that was logged at home with a photograph: the link's rights, and bounds of its own. */
import { readFile } from 'node:fs/promises';
import type { Context, Hono } from 'hono';
import { keepPhotos } from '../../../flow/photos/photos.js';
import { pageTextsFor, riderTextsFor } from '../../../languages/index.js';
import type { MadePhoto } from '../../../ports/originals.js';
import { LARGEST_PHOTO_MB } from '../../cells/photoCells.js';
import type { PhotoDeps } from '../../deps.js';
import { boundaryOf } from '../../door/multipart.js';
import { type Into, receiving, type Sending } from '../../door/receive.js';
import { tally } from '../../door/tally.js';
import { gates } from '../../gate.js';
import type { Fields } from '../../taken.js';
import type { WebEnv } from '../../viewer.js';
import type { Door, Doors } from '../answer.js';
import { fieldsOf } from '../forms.js';
import { bothHomes } from '../own/device.js';
import { fault } from '../riderPage.js';

/** Of one rider in a quarter of an hour, so that no link fills the disk. */
const MOST_MB = 100;
/** Of one rider at once, and waiting. */
const OF_A_RIDER = [1, 2] as const;

/** A form that came, with its photographs as they will be kept; or why it is not taken. */
type Came =
  | { readonly fields: Fields; readonly made: readonly MadePhoto[] }
  | { readonly fields: Fields; readonly refused: string };

export function sendHome(links: Hono<WebEnv>, doors: Doors, doorOf: (c: Context<WebEnv>) => Door): void {
  const ofRider = gates(...OF_A_RIDER);
  const megabytes = tally();
  links.on('POST', bothHomes('/units/:tag/:kind/home'), async (c) => {
    const { photos } = doors.deps;
    const door = doorOf(c);
    if (!photos || boundaryOf(c.req.header('content-type')) === null)
      return doors.answer(c, door, () => fieldsOf(c));
    const found = await doors.knock(c, door, true);
    if ('closed' in found) return doors.shut(c, found);
    if (found.isExpired) return doors.show(c, door, null);
    const { riderId, language } = found.contact;
    const now = doors.deps.clock.now();
    const into: Into = {
      parts: photos.parts,
      mostFiles: 1,
      mostMb: LARGEST_PHOTO_MB,
      mayCome: (bytes) => {
        megabytes.add(riderId, now, bytes / 1_000_000);
        return megabytes.count(riderId, now) <= MOST_MB;
      },
    };
    const { home } = riderTextsFor(language);
    const came = await ofRider(riderId, () =>
      receiving(c, into, (sending) => makeSent(photos, sending, language)),
    );
    if (came === null || typeof came === 'string') return doors.back(c, door, fault(home.tooMuch), {});
    if ('refused' in came) return doors.back(c, door, fault(came.refused), came.fields);
    return keepPhotos(photos.files, came.made, (kept) =>
      doors.answer(c, { ...door, photos: kept }, async () => came.fields),
    );
  });
}

async function makeSent(
  { maker }: PhotoDeps,
  { fields, files: sent }: Sending,
  language: string,
): Promise<Came> {
  const { photos } = pageTextsFor(language);
  const all: MadePhoto[] = [];
  for (const { name, part } of sent) {
    const bytes = await readFile(part.path);
    if (bytes.length === 0) continue;
    const made = await maker.make(bytes);
    if (typeof made === 'string') return { fields, refused: photos.notThis(name, photos.faults[made]) };
    all.push(made);
  }
  return { fields, made: all };
}
