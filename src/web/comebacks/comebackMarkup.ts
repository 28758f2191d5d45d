import { html } from 'hono/html';
import type { JobFact } from '../../core/ledger/facts.js';
import { COMEBACK_CAUSES, type ComebackCause, type ServiceKind } from '../../core/tokens.js';
import type { Day } from '../../units.js';
import { type EntryForm, NotTaken } from '../entryForm.js';
import { choice, type Markup, when } from '../markup.js';
import type { Fields } from '../taken.js';
import type { Viewer, Voice } from '../viewer.js';

/** A service that a job may come back after. */
export interface EarlierService {
  readonly serviceKind: ServiceKind;
  readonly on: Day;
}

export const causeText = (
  { texts: { comebacks } }: Pick<Voice, 'texts'>,
  cause: ComebackCause | null,
): string => (cause === null ? comebacks.notKnown : comebacks.cause[cause]);

const keyOf = ({ serviceKind, on }: EarlierService): string => `${on} ${serviceKind}`;

/** Whether a job is the comeback of an earlier service here, and why. */
export function comebackFields(
  viewer: Viewer,
  {
    job,
    before,
    tag,
  }: { readonly job: JobFact; readonly before: readonly EarlierService[]; readonly tag: string },
  fields: Fields,
): Markup {
  const { comebacks: says } = viewer.texts;
  const { words, today } = viewer;
  const { comeback } = job;
  return when(
    before.length > 0,
    () => html`
${choice({
  name: 'comeback',
  id: `comeback-${tag}`,
  label: says.job.of,
  value: fields.comeback ?? (comeback ? keyOf(comeback) : ''),
  choices: [
    { value: '', label: says.job.no },
    ...before.map((one) => ({
      value: keyOf(one),
      label: says.job.service(words.serviceKind(one.serviceKind), words.day(one.on, today)),
    })),
  ],
})}
${choice({
  name: 'cause',
  id: `cause-${tag}`,
  label: says.job.cause,
  value: fields.cause ?? comeback?.cause ?? '',
  choices: [
    { value: '', label: says.notKnown },
    ...COMEBACK_CAUSES.map((value) => ({ value, label: says.cause[value] })),
  ],
})}`,
  );
}

/** Returns what the form says of it; nothing where it did not ask. Errors: NotTaken for a service that is not there. */
export function comebackIn(form: EntryForm, before: readonly EarlierService[]): Pick<JobFact, 'comeback'> {
  const { comeback, cause } = form.fields;
  if (comeback === undefined) return {};
  if (comeback === '') return { comeback: null };
  const of = before.find((one) => keyOf(one) === comeback);
  if (of === undefined) throw new NotTaken(form.viewer.texts.tray.needChoice, 'comeback');
  const why = (cause ?? '') === '' ? null : form.choice('cause', COMEBACK_CAUSES);
  return { comeback: { serviceKind: of.serviceKind, on: of.on, cause: why } };
}

/** Returns what a job says of it: after which service, why, and that it costs nothing where no price was promised. */
export function comebackText(
  voice: Voice,
  day: (on: Day) => string,
  { comeback, price }: Pick<JobFact, 'comeback' | 'price'>,
): string | null {
  if (!comeback) return null;
  const { job } = voice.texts.comebacks;
  const told = job.told(
    voice.words.serviceKind(comeback.serviceKind),
    day(comeback.on),
    causeText(voice, comeback.cause),
  );
  return price === null ? `${told}; ${job.free}` : told;
}
