import type { Context } from 'hono';
import { AlreadyReplaced, Refusal, ServiceError } from '../errors.js';
import { refusalText } from '../languages/refusals.js';
import { NotTaken } from './entryForm.js';
import type { Markup } from './markup.js';
import { byText, timeText } from './show.js';
import type { Viewer, WebEnv } from './viewer.js';

/** What a form was sent with, by field. */
export type Fields = Readonly<Record<string, string>>;

/** What stands above a page after a form was sent from it. */
export interface After {
  /** Why it was not taken; nothing was changed. */
  readonly fault: string | null;
  /** What was typed, so that it can be put right. */
  readonly fields: Fields;
  /** The field that the fault is about, where it is about one. */
  readonly at?: string | null;
  /** What was done, as the page's texts name it. */
  readonly done: string | null;
}

export const afterQuery = (c: Context<WebEnv>): After => ({
  fault: null,
  fields: {},
  done: c.req.query('done') ?? null,
});

/** Goes on where the work leads to; where it is refused, shows the page again with the reason and what was typed. */
export async function taken(
  c: Context<WebEnv>,
  fields: After['fields'],
  work: () => Promise<string>,
  show: (after: After) => Promise<Markup>,
): Promise<Response> {
  try {
    return c.redirect(await work(), 303);
  } catch (error) {
    if (error instanceof NotTaken)
      return c.html(await show({ fault: error.message, fields, done: null, at: error.field }), 422);
    if (error instanceof AlreadyReplaced)
      return c.html(await show({ fault: meanwhile(c.get('viewer'), error), fields, done: null }), 409);
    if (error instanceof ServiceError && error.code === 'refused')
      return c.html(await show({ fault: refusedText(error, c.get('viewer')), fields, done: null }), 409);
    throw error;
  }
}

/** Returns why something was refused, in the reader's language. */
export function refusedText(error: ServiceError, around: Pick<Viewer, 'words' | 'today' | 'zone'>): string {
  if (error instanceof Refusal) return refusalText(error, around);
  return error.hint === undefined ? error.message : `${error.message} ${error.hint}`;
}

/** Names who was first, so that the two can talk to each other. */
const meanwhile = (viewer: Viewer, { by, at, isVoid }: AlreadyReplaced): string =>
  (isVoid ? viewer.texts.takenBackBy : viewer.texts.changedBy)(byText(viewer, by), timeText(at, viewer));
