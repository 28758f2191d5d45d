import { html } from 'hono/html';
import { fittingNow } from '../../core/ledger/ledger.js';
import { GONE_WAYS } from '../../core/tokens.js';
import type { UnitPage } from '../../flow/due/unitPage.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { formToken } from '../layout.js';
import { type Choice, choice, field, type Markup, tick, when } from '../markup.js';
import type { After, Fields } from '../taken.js';
import type { Viewer } from '../viewer.js';
import { unitFields } from './changeUnit.js';
import { claimForm } from './claimForm.js';
import { movedTick } from './movedRides.js';

/** The forms that change a unit; each is its own, so that one wrong field stops nothing else. */
export function unitForms(viewer: Viewer, view: UnitPage, after: After): Markup {
  const { fields, fault } = after;
  const form = (name: string, body: Markup): Markup => html`
<form method="post" action="${pathOfUnit(view.ledger.unit.tag)}/${name}">${formToken(viewer)}
${body}
</form>`;
  const { unit } = viewer.texts;
  const part = (title: string, isOpen: boolean, body: Markup): Markup =>
    html`<details class="entry"${isOpen ? html` open` : ''}><summary><h2>${title}</h2></summary>${body}</details>`;
  const wasSent = (name: string): boolean => fault !== null && fields[name] !== undefined;
  return html`
${part(unit.fitTitle, wasSent('fitFrom') || wasSent('offFrom') || wasSent('swapFrom'), fitting(viewer, view, after, form))}
${part(unit.markTitle, wasSent('why'), marks(viewer, view, fields, form))}
${when(!view.isOfTeam, () => part(viewer.texts.comebacks.claim.title, wasSent('claimWhat') || view.claim !== null, claimForm(viewer, view, wasSent('claimWhat') ? fields : {})))}
${when(!view.isOfTeam, () => part(unit.goneTitle, wasSent('goneOn') || wasSent('backOn') || wasSent('fleetFrom'), whereabouts(viewer, view, after, form)))}
${when(!view.isOfTeam, () => part(viewer.texts.customer.things.unitChange, wasSent('known'), form('change', unitFields(viewer, view.fact, wasSent('known') ? fields : {}))))}
${when(!view.isOfTeam, () => part(unit.tagTitle, wasSent('newTag'), form('tag', tagFields(viewer, view, fields))))}`;
}

type Form = (name: string, body: Markup) => Markup;
const submit = (text: string): Markup => html`<p><button>${text}</button></p>`;

const dayField = ({ today }: Viewer, fields: Fields, name: string, label: string): Markup =>
  field({ name, label, type: 'date', value: fields[name] ?? today, isShort: true, isRequired: true });

function fitting(viewer: Viewer, { ledger, bikes, others }: UnitPage, after: After, form: Form): Markup {
  const { fields } = after;
  const moved = (name: string): Markup => when(fields[name] !== undefined, () => movedTick(viewer, after));
  const { unit, tray, team } = viewer.texts;
  const isOn = fittingNow(ledger.fittings, viewer.now) !== undefined;
  const nameField = (name: string, label: string, choices: readonly Choice[] | null): Markup =>
    choices === null
      ? field({ name, label, hint: unit.typeIt, value: fields[name], isRequired: true })
      : choice({
          name,
          label,
          value: fields[name] ?? '',
          choices: [{ value: '', label: tray.choose }, ...choices],
        });
  const whenOf = (name: 'fit' | 'swap'): Markup =>
    html`${choice({
      name: `${name}When`,
      label: unit.fitWhen,
      value: fields[`${name}When`] ?? 'before',
      choices: (['before', 'at', 'after'] as const).map((value) => ({
        value,
        label: value === 'at' ? team.swap.whens.at : team.swap[value],
      })),
    })}${field({ name: `${name}Time`, label: team.swap.time, type: 'time', value: fields[`${name}Time`] ?? '', isShort: true })}`;
  const bikeChoices = bikes?.map(({ handle, name }) => ({ value: handle, label: `${name} (${handle})` }));
  const sure = when(ledger.mark !== null || fields.swapWith !== undefined, () =>
    tick('althoughMarked', unit.althoughMarked, false),
  );
  const put = html`
${nameField('fitBike', unit.fitBike, bikeChoices ?? null)}
${dayField(viewer, fields, 'fitFrom', unit.fitFrom)}${whenOf('fit')}${field({ name: 'loanUntil', label: viewer.texts.hire.loanUntil, hint: viewer.texts.hire.loanHint, type: 'date', value: fields.loanUntil ?? '', isShort: true })}${tick('clears', unit.clears, fields.clears === 'yes')}${sure}${moved('fitFrom')}${submit(unit.fit)}`;
  const off = html`${dayField(viewer, fields, 'offFrom', unit.offFrom)}${moved('offFrom')}${submit(unit.off)}`;
  const { state } = viewer.words;
  const otherChoices =
    others?.map(({ tag, isStopped }) => ({
      value: tag,
      label: isStopped ? `${tag} (${state['stop-riding']})` : tag,
    })) ?? null;
  const swap = html`
${nameField('swapWith', unit.swapWith, otherChoices)}
${dayField(viewer, fields, 'swapFrom', unit.fitFrom)}${whenOf('swap')}${sure}${moved('swapFrom')}${submit(unit.swap)}`;
  return html`${isOn ? form('off', off) : form('fit', put)}${when(others === null || others.length > 0, () => form('swap', swap))}`;
}

/** That it left for good, or is back; and which fleet it belongs to. */
function whereabouts(viewer: Viewer, view: UnitPage, after: After, form: Form): Markup {
  const { unit } = viewer.texts;
  const { fields } = after;
  const ways = GONE_WAYS.map((value) => ({ value, label: viewer.words.gone[value] }));
  const leaves = html`<p>${unit.goneHint}</p>
${choice({ name: 'goneHow', label: unit.goneHow, value: fields.goneHow ?? 'sold', choices: ways })}
${dayField(viewer, fields, 'goneOn', unit.goneOn)}${when(fields.goneOn !== undefined, () => movedTick(viewer, after))}${submit(unit.gone)}`;
  const returns = html`<p>${unit.backHint}</p>${dayField(viewer, fields, 'backOn', unit.backOn)}${submit(unit.back)}`;
  const fleets = [
    { value: '', label: unit.ofNoFleet },
    ...view.fleets.map(({ handle, name }) => ({ value: handle, label: name })),
  ];
  const belongs = html`
${choice({ name: 'fleet', label: unit.fleet, hint: unit.fleetHint, value: fields.fleet ?? view.fleet ?? '', choices: fleets })}
${dayField(viewer, fields, 'fleetFrom', unit.fleetFrom)}${submit(unit.saveFleet)}`;
  return html`${view.gone === null ? form('gone', leaves) : form('back', returns)}${when(view.fleets.length > 0, () => form('fleet', belongs))}`;
}

function tagFields({ texts: { unit } }: Viewer, { fact }: UnitPage, fields: Fields): Markup {
  return html`<p>${unit.tagHint}</p>
<input type="hidden" name="fact" value="${fields.fact ?? fact.id}">
${field({ name: 'newTag', label: unit.newTag, value: fields.newTag ?? fact.body.tag, isShort: true, isRequired: true })}
${field({ name: 'tagWhy', label: unit.tagWhy, value: fields.tagWhy, isRequired: true })}
${submit(unit.saveTag)}`;
}

function marks(viewer: Viewer, { ledger }: UnitPage, fields: Fields, form: Form): Markup {
  const { unit, inspect } = viewer.texts;
  const why = field({ name: 'why', label: unit.why, value: fields.why, isRequired: true });
  const mark = form('mark', html`${why}${submit(unit.mark)}`);
  return html`${when(ledger.mark === null, () => html`<p>${unit.markHint}</p>${mark}`)}
<p>${inspect.crash.ends} <a href="${pathOfUnit(ledger.unit.tag)}/crash">${inspect.crash.link}</a></p>`;
}
