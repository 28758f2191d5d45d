import { html } from 'hono/html';
import { parseDay } from '../../../core/days/dayNumber.js';
import { groundTypeOf } from '../../../core/subSports.js';
import type { LastSending } from '../../../flow/rides/lastSending.js';
import { NO_HOURS } from '../../../flow/rides/lastSending.js';
import type { RideSet, SetAnswer } from '../../../flow/rides/rideSets.js';
import { hoursOfSeconds } from '../../../units.js';
import { choice, field, type Markup, NOTHING, soft, when } from '../../markup.js';
import type { Fields } from '../../taken.js';
import type { Bikes } from '../moveForm.js';
import { form, type RiderView, submit } from '../riderPage.js';

/** What stands for none of the rider's bikes; no id is like it. */
const NONE = 'none';

/** Returns what came last as a sum: what counts, what waits, what adds no hours and why; empty where nothing came. */
export function sendingText({ texts, voice: { words }, today }: RiderView, of: LastSending | null): string {
  if (of === null) return '';
  const { sending } = texts.own.rides;
  const since = of.from === null ? null : words.day(of.from, today);
  const none = NO_HOURS.filter((why) => of.noHours[why] > 0).map((why) =>
    sending.why[why](words.counted(of.noHours[why], 'ride')),
  );
  return [
    sending.sum(words.counted(of.rides, 'ride'), words.hours(hoursOfSeconds(of.movingS)), since),
    ...(of.counted > 0 ? [sending.counted(of.counted)] : []),
    ...(of.asking > 0 ? [sending.asking(of.asking)] : []),
    ...(none.length > 0 ? [sending.noHours(words.list(none))] : []),
  ].join(' ');
}

/** One form for all rides that ask for their bike: a set a line, the bike that it looks like chosen beforehand. */
export function setsMarkup(view: RiderView, sets: readonly RideSet[], bikes: Bikes): Markup {
  if (sets.length === 0 || bikes.size === 0) return NOTHING;
  const { texts, voice } = view;
  const { sets: says } = texts.own.rides;
  const count = sets.reduce((sum, { rides }) => sum + rides.length, 0);
  const profiles = [...new Set(sets.flatMap(({ profile }) => (profile === null ? [] : [profile])))];
  return html`<section aria-labelledby="sets"><h2 id="sets">${says.title(voice.words.counted(count, 'ride'))}</h2>
${form(html`<input type="hidden" name="say" value="sets">${sets.map((set, i) => setMarkup(view, set, bikes, i))}
${soft(profiles.length === 0 ? null : says.later(voice.words.list(profiles)))}
${submit(says.submit)}`)}</section>`;
}

function setMarkup(view: RiderView, set: RideSet, bikes: Bikes, i: number): Markup {
  const { texts, voice, today, sent } = view;
  const { words } = voice;
  const { sets: says } = texts.own.rides;
  const { bike: asks } = texts;
  const likely = set.likely === null ? null : (bikes.get(set.likely) ?? null);
  const chosen = sent[`bike.${i}`] ?? (likely === null ? '' : set.likely);
  const days = set.rides.map(({ day }) => day);
  const span = words.range(days.at(0)!, days.at(-1)!, today);
  const all = [...bikes, [NONE, asks.onNone] as const];
  const hours = words.hours(hoursOfSeconds(set.movingS));
  return html`<fieldset class="step"><legend>${nameOf(view, set)}: ${words.counted(set.rides.length, 'ride')}, ${hours}</legend>
<input type="hidden" name="key.${i}" value="${set.key}">
<p class="soft">${span}. ${likely === null ? says.unknown : says.looksLike(likely)}</p>
<div class="taps">${all.map(
    ([id, name]) =>
      html`<label class="tap"><input type="radio" name="bike.${i}" value="${id}"${when(id === chosen, () => html` checked`)}>${name}</label>`,
  )}</div>
<details><summary>${says.except}</summary>
<p class="soft">${set.rides
    .slice(-RIDES_NAMED)
    .map((ride) => `${words.day(ride.day, today)} (${words.hours(hoursOfSeconds(ride.movingS))})`)
    .join(', ')}</p>
<div class="row">${field({ name: `from.${i}`, label: says.from, type: 'date', value: sent[`from.${i}`] })}${field({ name: `to.${i}`, label: says.to, type: 'date', value: sent[`to.${i}`] })}${choice(
    {
      name: `other.${i}`,
      label: says.other,
      value: sent[`other.${i}`] ?? '',
      choices: [
        { value: '', label: voice.texts.tray.choose },
        ...all.map(([value, label]) => ({ value, label })),
      ],
    },
  )}</div></details></fieldset>`;
}

/** So many rides of a set are named with their day. */
const RIDES_NAMED = 60;

function nameOf({ texts }: RiderView, { profile, subSport, bySensor }: RideSet): string {
  const { kinds, withProfile, withSensor } = texts.own.rides.sets;
  const name = profile === null ? kinds[groundTypeOf(subSport) ?? 'other'] : withProfile(profile);
  return bySensor ? withSensor(name) : name;
}

/** Returns what a form says of the sets; null where the days of an exception are not days. */
export function setAnswersIn(fields: Fields): SetAnswer[] | null {
  const answers: SetAnswer[] = [];
  for (let i = 0; fields[`key.${i}`] !== undefined; i++) {
    const key = fields[`key.${i}`]!;
    const bike = fields[`bike.${i}`] ?? '';
    const [from, to, other] = ['from', 'to', 'other'].map((name) => fields[`${name}.${i}`] ?? '');
    if (bike === '') continue;
    const except = exceptOf(from!, to!, other!);
    if (except === 'unclear') return null;
    answers.push({ key, bikeId: idOf(bike), except });
  }
  return answers;
}

const idOf = (value: string): string | null => (value === NONE ? null : value);

/** One day alone is that day. */
function exceptOf(from: string, to: string, other: string): SetAnswer['except'] | 'unclear' {
  if (from === '' && to === '' && other === '') return null;
  const first = parseDay(from === '' ? to : from);
  const last = parseDay(to === '' ? from : to);
  if (first === null || last === null || other === '' || last < first) return 'unclear';
  return { from: first, to: last, bikeId: idOf(other) };
}
