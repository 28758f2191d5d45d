import { oneLine } from '../core/lines.js';
import type { JobQuestionContent } from '../core/notices/mailContent.js';
import type { ServiceKind } from '../core/tokens.js';
import { contactOf, rendered, shortened, voiceOf } from './correspondent.js';
import type { Block, Rendered } from './letter.js';

const WHY_SIGNS = 300;
const paragraph = (text: string): Block => ({ kind: 'paragraph', text });

/** Returns the mail that asks whether another job may be done: what was seen, what it costs, and where to answer. */
export const renderJobQuestion = (of: JobQuestionContent): Rendered => {
  const { workshop, rider, today, link } = of;
  const voice = voiceOf(rider.language);
  const { texts, words } = voice;
  const { jobQuestion: says, reminder } = texts;
  const bike = oneLine(of.bike);
  const job = (kind: ServiceKind): string => oneLine(words.serviceKind(kind));
  const unit = `${words.unitKind[of.unitKind]} ${oneLine(of.tag)}`;
  const rows = [
    ...(of.price === null ? [] : [[reminder.price, oneLine(of.price)] as const]),
    ...(of.day === null ? [] : [[says.day, words.weekday(of.day, today)] as const]),
  ];
  return rendered(workshop, voice, {
    subject: says.subject(shortened(bike, 40)),
    blocks: [
      paragraph(texts.greeting(oneLine(rider.name))),
      paragraph(says.seen(bike, unit, shortened(of.why, WHY_SIGNS))),
      paragraph(of.from === null ? says.advise(job(of.to)) : says.adviseInstead(job(of.to), job(of.from))),
      ...(rows.length === 0 ? [] : [{ kind: 'rows', rows } as const]),
      paragraph(says.waits),
      ...(link === null
        ? []
        : [
            {
              kind: 'links',
              main: { label: of.photos > 0 ? says.linkWithPhotos : says.link, href: link },
              others: [],
            } as const,
          ]),
      paragraph(says.call(contactOf(workshop, texts))),
    ],
    footnotes: [],
    stop: null,
  });
};
