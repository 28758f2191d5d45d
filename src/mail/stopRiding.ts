import { oneLine } from '../core/lines.js';
import type { StopContent, StoppedUnit } from '../core/notices/kinds/stopRiding.js';
import { contactOf, type MailVoice, rendered, shortened, voiceOf } from './correspondent.js';
import type { Block, Rendered } from './letter.js';

const BIKE_SIGNS = 24;
const WHY_SIGNS = 300;

const paragraph = (text: string): Block => ({ kind: 'paragraph', text });

const unitText = ({ unitKind, tag, model }: StoppedUnit, { words }: MailVoice): string =>
  `${words.unitKind[unitKind]} (${[tag, model ?? '']
    .map(oneLine)
    .filter((part) => part !== '')
    .join(', ')})`;

const whoseText = ({ rider, bike, tag }: StoppedUnit): string =>
  [rider?.name ?? '', bike ?? tag]
    .map(oneLine)
    .filter((part) => part !== '')
    .join(', ');

/** A phone that can be dialled stands as a button. */
function phoneBlock(phone: string | null, { texts }: MailVoice): Block[] {
  const shown = phone === null ? '' : oneLine(phone);
  const digits = shown.replace(/[^0-9+]/g, '');
  if (digits.length < 3) return [];
  const main = { label: texts.stopRiding.phone(shown), href: `tel:${digits}` };
  return [{ kind: 'links', main, others: [] }];
}

function forRider({ workshop, units }: StopContent, rider: { readonly name: string }, voice: MailVoice) {
  const { texts, words } = voice;
  const { stopRiding } = texts;
  const [first] = units;
  const bikeOf = ({ bike, tag }: StoppedUnit): string => oneLine(bike ?? tag);
  const said = (unit: StoppedUnit): string =>
    unit.bike === null
      ? stopRiding.boxed(unitText(unit, voice))
      : stopRiding.said(oneLine(unit.bike), unitText(unit, voice));
  return {
    subject: stopRiding.subject(shortened(bikeOf(first!), BIKE_SIGNS), words.unitKind[first!.unitKind]),
    blocks: [
      paragraph(texts.greeting(oneLine(rider.name))),
      ...units.map(
        (unit): Block => ({
          kind: 'warning',
          text: said(unit),
          items: [stopRiding.why(shortened(unit.why, WHY_SIGNS))],
        }),
      ),
      paragraph(stopRiding.call(contactOf(workshop, texts))),
      ...phoneBlock(workshop.phone, voice),
    ],
  };
}

function forWorkshop({ units }: StopContent, voice: MailVoice) {
  const { stopRiding } = voice.texts;
  const says = stopRiding.forWorkshop;
  const [first, ...rest] = units;
  const subject = says.subject(whoseText(first!), voice.words.unitKind[first!.unitKind]);
  return {
    subject: rest.length === 0 ? subject : voice.texts.reminder.andMore(subject, rest.length),
    blocks: units.flatMap((unit): Block[] => [
      {
        kind: 'warning',
        text: says.said(whoseText(unit), unitText(unit, voice)),
        items: [stopRiding.why(shortened(unit.why, WHY_SIGNS))],
      },
      ...(unit.rider === null
        ? []
        : [
            paragraph(says.told(oneLine(unit.rider.name), unit.rider.phone && oneLine(unit.rider.phone))),
            ...phoneBlock(unit.rider.phone, voice),
          ]),
    ]),
  };
}

/**
 * Returns the mail that says what must not be ridden: which unit, why, and the phone; no hours, no date.
 * Errors: RangeError without any unit.
 */
export const renderStopRiding = (input: StopContent): Rendered => {
  if (input.units.length === 0) throw new RangeError('A mail to stop riding needs a unit.');
  const { workshop, rider } = input;
  const voice = voiceOf(rider?.language ?? workshop.language);
  return rendered(workshop, voice, rider ? forRider(input, rider, voice) : forWorkshop(input, voice));
};
