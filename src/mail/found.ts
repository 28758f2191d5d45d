import { oneLine } from '../core/lines.js';
import type { FoundContent } from '../core/notices/mailContent.js';
import type { Matters } from '../core/notices/matters.js';
import type { ServiceKind } from '../core/tokens.js';
import { seenText, setText } from '../languages/seenText.js';
import { contactOf, type MailVoice, ownLine, rendered, shortened, voiceOf } from './correspondent.js';
import type { Block, Rendered } from './letter.js';

const paragraph = (text: string): Block => ({ kind: 'paragraph', text });

/** Returns the mail that a unit can be collected and what was found in it: what matters first, with what to do. */
export const renderFound = (of: FoundContent): Rendered => {
  const { workshop, rider, today, links, hours, next } = of;
  const voice = voiceOf(rider.language);
  const { texts, words } = voice;
  const { found, ready } = texts;
  const bike = oneLine(of.bike);
  const contact = contactOf(workshop, texts);
  const job = (kind: ServiceKind): string => oneLine(words.serviceKind(kind));
  const seen = of.found.map((one) => oneLine(seenText(rider.language, one)));
  const set = Object.entries(of.left ?? {}).map((one) => oneLine(setText(rider.language, one)));
  return rendered(workshop, voice, {
    subject: found.subject(shortened(bike, 30)),
    blocks: [
      paragraph(texts.greeting(oneLine(rider.name))),
      ...mattersBlocks(of.matters, voice, rider.language, contact),
      paragraph(ready.said(bike, `${words.unitKind[of.unitKind]} ${oneLine(of.tag)}`)),
      paragraph(ready.did(words.list(of.did.map(job)))),
      ...(seen.length === 0 ? [] : [{ kind: 'list', title: found.seen, items: seen } as const]),
      ...(set.length === 0 ? [] : [{ kind: 'list', title: found.left, items: set } as const]),
      ...(hours === null
        ? []
        : [paragraph(found.hours(words.hours(hours.terrainHours), words.hours(hours.movingHours)))]),
      ...(of.price === null ? [] : [paragraph(found.price(oneLine(of.price)))]),
      ...(next === null
        ? []
        : [paragraph(found.next(job(next.serviceKind), words.about(next.from, next.to, today)))]),
      ...(links === null
        ? []
        : [
            {
              kind: 'links',
              main: { label: of.photos > 0 ? found.linkWithPhotos : found.link, href: links.page },
              others: [],
            } as const,
          ]),
      ...ownLine(workshop, 'ready'),
      paragraph(ready.call(contact)),
    ],
    footnotes: links === null ? [found.stopWithout(contact)] : [],
    stop: links === null ? null : { label: found.stopLink, href: links.stopMails },
  });
};

function mattersBlocks(
  { stop, soon }: Matters,
  { texts: { found } }: MailVoice,
  language: string,
  contact: string,
): Block[] {
  const items = (seen: Matters['stop']): string[] => seen.map((one) => oneLine(seenText(language, one)));
  return [
    ...(stop.length === 0
      ? []
      : [
          { kind: 'warning', text: found.stop, items: items(stop) } as const,
          paragraph(found.stopHow(contact)),
        ]),
    ...(soon.length === 0
      ? []
      : [
          { kind: 'warning', text: found.soon, items: items(soon) } as const,
          paragraph(found.soonHow(contact)),
        ]),
  ];
}
