import { html } from 'hono/html';
import type { ClaimFact } from '../../core/ledger/facts.js';
import { CLAIM_STEPS } from '../../core/tokens.js';
import type { UnitPage } from '../../flow/due/unitPage.js';
import type { ClaimSaid } from '../../flow/facts/claims.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { type EntryForm, NotTaken } from '../entryForm.js';
import { formToken } from '../layout.js';
import { choice, field, type Markup } from '../markup.js';
import type { Fields } from '../taken.js';
import type { Viewer, Voice } from '../viewer.js';

/** Opens a claim under warranty, or says what became of the one that is open. */
export function claimForm(viewer: Viewer, { ledger: { unit }, claim }: UnitPage, fields: Fields): Markup {
  const { claim: says } = viewer.texts.comebacks;
  const path = pathOfUnit(unit.tag);
  const said = claim?.body;
  const { warrantyEnd } = unit;
  const end =
    warrantyEnd === null
      ? says.noEnd
      : (warrantyEnd >= viewer.today ? says.until : says.over)(viewer.words.day(warrantyEnd, viewer.today));
  return html`<p>${end} ${says.lead} <a href="${path}/book">${says.history}</a></p>
<form method="post" action="${path}/claim">${formToken(viewer)}<input type="hidden" name="claimFact" value="${fields.claimFact ?? claim?.id ?? ''}">
${field({ name: 'claimWhat', label: says.what, value: fields.claimWhat ?? said?.what, isRequired: true })}
${choice({ name: 'claimStep', label: says.step, value: fields.claimStep ?? said?.step ?? 'opened', choices: CLAIM_STEPS.map((value) => ({ value, label: says.steps[value] })) })}
${field({ name: 'claimTo', label: says.sentTo, value: fields.claimTo ?? said?.sentTo ?? '' })}
${field({ name: 'claimAnswer', label: says.answer, value: fields.claimAnswer ?? said?.answer ?? '' })}
<p><button>${says.save}</button></p></form>`;
}

/** Errors: NotTaken. */
export function claimIn(form: EntryForm): ClaimSaid {
  const { claim: says } = form.viewer.texts.comebacks;
  const what = form.line('claimWhat');
  if (what === null) throw new NotTaken(says.needWhat, 'claimWhat');
  const step = form.choice('claimStep', CLAIM_STEPS);
  const sentTo = form.line('claimTo');
  if (step !== 'opened' && sentTo === null) throw new NotTaken(says.needSentTo, 'claimTo');
  return { step, what, sentTo, answer: form.line('claimAnswer') };
}

/** Returns a claim in a sentence's length. */
export function claimText(
  { texts: { comebacks } }: Pick<Voice, 'texts'>,
  { what, step, sentTo, answer }: Pick<ClaimFact, 'what' | 'step' | 'sentTo' | 'answer'>,
): string {
  const { claim } = comebacks;
  const to = sentTo === null ? null : claim.to(sentTo);
  return [claim.told(what, claim.steps[step]), to, answer].filter((part) => part !== null).join('; ');
}
