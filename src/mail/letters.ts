import type { ConfirmContent, MailFrame, SilenceContent } from '../core/mailContent.js';
import type { ServiceKind, UnitKind } from '../core/tokens.js';
import type { Day } from '../units.js';
import { contactOf, rendered, shortened, voiceOf } from './correspondent.js';
import { oneLine } from './headerSafety.js';
import type { Block, LetterLink, Rendered } from './letter.js';
import type { BookingChange } from './texts/index.js';

const paragraph = (text: string): Block => ({ kind: 'paragraph', text });
const mainLink = (main: LetterLink): Block => ({ kind: 'links', main, others: [] });

/** Returns the mail that asks whether an address is the rider's; it holds no ride, bike or unit. */
export const renderConfirmAddress = ({ workshop, rider, link }: ConfirmContent): Rendered => {
  const voice = voiceOf(rider.language);
  const { confirm, greeting } = voice.texts;
  const name = oneLine(workshop.name);
  return rendered(workshop, voice, {
    subject: confirm.subject(name),
    blocks: [
      paragraph(greeting(oneLine(rider.name))),
      paragraph(confirm.why(name)),
      link === null
        ? paragraph(confirm.withoutLink(contactOf(workshop, voice.texts)))
        : mainLink({ label: confirm.link, href: link }),
      paragraph(confirm.otherwise),
    ],
  });
};

/** Returns the mail that asks whether the rider rests or the files have stopped coming. */
export const renderSilence = ({ workshop, rider, today, since, links }: SilenceContent): Rendered => {
  const voice = voiceOf(rider.language);
  const { texts, words } = voice;
  const [day, contact] = [words.day(since, today), contactOf(workshop, texts)];
  return rendered(workshop, voice, {
    subject: texts.silence.subject(day),
    blocks: [
      paragraph(texts.greeting(oneLine(rider.name))),
      paragraph(texts.silence.resting(day)),
      paragraph(texts.silence.stopped(contact)),
      ...(links === null ? [] : [mainLink({ label: texts.silence.link, href: links.handOver })]),
      paragraph(texts.silence.estimates),
    ],
    footnotes: links === null ? [texts.stopWithout(contact)] : [],
    stop: links === null ? null : { label: texts.stopLink, href: links.stopMails },
  });
};

export interface BookingInput extends MailFrame {
  readonly change: BookingChange;
  readonly bike: string;
  readonly tag: string;
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  /** The day that is booked, or was. */
  readonly day: Day;
}

/** Returns the mail that goes with a calendar entry: a day booked, moved or cancelled. */
export const renderBooking = (input: BookingInput): Rendered => {
  const { workshop, rider, today, change } = input;
  const voice = voiceOf(rider.language);
  const { texts, words } = voice;
  const bike = oneLine(input.bike);
  const about = {
    bike,
    unit: `${words.unitKind[input.unitKind]} ${oneLine(input.tag)}`,
    job: oneLine(words.serviceKind(input.serviceKind)),
    likely: null,
  };
  const day = words.weekday(input.day, today);
  return rendered(workshop, voice, {
    subject: texts.booking.subject[change](shortened(bike, 24), day),
    blocks: [
      paragraph(texts.greeting(oneLine(rider.name))),
      paragraph(texts.booking.said[change](about, day)),
      paragraph(texts.booking.change(contactOf(workshop, texts))),
      paragraph(texts.booking.calendar),
    ],
  });
};

export interface FreshLinkInput extends MailFrame {
  readonly link: string;
}

/** Returns the mail that takes the place of an expired link; it says nothing of what the page is about. */
export const renderFreshLink = ({ workshop, rider, link }: FreshLinkInput): Rendered => {
  const voice = voiceOf(rider.language);
  const { freshLink, greeting } = voice.texts;
  return rendered(workshop, voice, {
    subject: freshLink.subject(oneLine(workshop.name)),
    blocks: [
      paragraph(greeting(oneLine(rider.name))),
      paragraph(freshLink.said),
      mainLink({ label: freshLink.link, href: link }),
      paragraph(freshLink.otherwise),
    ],
  });
};
