import type { Context } from 'hono';
import { html } from 'hono/html';
import { HTTPException } from 'hono/http-exception';
import type { LinkPurpose } from '../../core/links.js';
import { ServiceError } from '../../errors.js';
import { queueFreshLink } from '../../flow/mail/kinds/link.js';
import { aboutJob, type OpenedLink, openLink, ownPageLink } from '../../flow/mail/links.js';
import type { KeptPhoto } from '../../flow/photos/photos.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { refreshSome } from '../change.js';
import type { RiderDeps, WebDeps } from '../deps.js';
import { tally } from '../door/tally.js';
import type { Markup } from '../markup.js';
import type { Fields } from '../taken.js';
import { refusedText } from '../taken.js';
import type { WebEnv } from '../viewer.js';
import { isOneClick } from './mailPages.js';
import { DEVICE_HOME, keepOnDevice, mayBeKept, ownToken, sayGone } from './own/device.js';
import { plainPage } from './plainPages.js';
import {
  done,
  fault,
  form,
  type OwnPart,
  type PageSaid,
  type RiderPage,
  type RiderView,
  riderMarkup,
  submit,
  viewOf,
} from './riderPage.js';
import { keepSaid, takeSaid } from './saidCookie.js';

/** In a quarter of an hour: forms and pages of one rider's link from one place, and links that do not work from one place. */
const MOST = { forms: 20, ownForms: 200, pages: 400, wrong: 60 } as const;

/** What opens a page. */
export interface Door {
  /** Which links do. */
  readonly purpose: LinkPurpose;
  readonly page: RiderPage;
  readonly part?: OwnPart;
  /** The job on a unit that the address names, in place of one that the link does. */
  readonly job?: { readonly tag: string; readonly serviceKind: string };
  /** What else the address names. */
  readonly thing?: string;
  /** Photographs that came with its form, and are kept. */
  readonly photos?: readonly KeptPhoto[];
}

/** Why a link opens nothing now. */
export type Closed = { readonly closed: 'gone' | 'tooMuch' };

/** What a form brings, read once it is known that its link opens something; null where a page is only asked for. */
export type Sent = (() => Promise<Fields>) | null;

/**
 * Opens doors with the links that people hold, as often as is reasonable. What others do, from the same place or with made-up
 * links, closes none.
 */
export class Doors {
  readonly #wrong = tally();
  readonly #forms = tally();
  readonly #pages = tally();

  constructor(
    readonly deps: WebDeps,
    readonly rider: RiderDeps,
  ) {}

  /** Returns what the address of a request opens. */
  async find(tx: Tx, c: Context<WebEnv>, { purpose, job }: Door, now: Instant): Promise<OpenedLink | null> {
    const opened = await openLink(
      tx,
      this.rider.seal,
      purpose,
      purpose === 'page' ? ownToken(c) : (c.req.param('token') ?? ''),
      now,
    );
    return !opened || !job || opened.isExpired ? opened : aboutJob(tx, opened, job);
  }

  view(
    tx: Tx,
    c: Context<WebEnv>,
    { purpose, thing, photos = [] }: Door,
    opened: OpenedLink,
    now: Instant,
    sent: Fields = {},
  ): Promise<RiderView> {
    const { ids, keptMonths, mailbox } = this.rider;
    const ownPage = (): string =>
      ownPageLink(tx, opened.contact, { publicUrl: '', seal: this.rider.seal }, now);
    const home = purpose === 'page' ? homeOf(c) : null;
    const keeping: RiderView['keeping'] = !mayBeKept(c) ? 'no' : home === DEVICE_HOME ? 'kept' : 'could';
    const around = { opened, now, ids, home, path: c.req.path, keeping, thing: thing ?? null, photos };
    return viewOf(tx, { ...around, ownPage, sent, keptMonths, mailbox });
  }

  /** Returns whose link it is, or why it opens nothing now. */
  async knock(c: Context<WebEnv>, door: Door, hasForm: boolean): Promise<OpenedLink | Closed> {
    const { store, clock } = this.deps;
    const now = clock.now();
    const { place } = c.get('visit');
    const found = await store.read((tx) => this.find(tx, c, door, now));
    const ofForms = door.purpose === 'page' ? MOST.ownForms : MOST.forms;
    const good = hasForm ? ([this.#forms, ofForms] as const) : ([this.#pages, MOST.pages] as const);
    const [counted, most] = found ? good : ([this.#wrong, MOST.wrong] as const);
    const key = found ? `${door.purpose} ${found.contact.riderId} ${place}` : place;
    if (counted.count(key, now) >= most) return { closed: 'tooMuch' };
    counted.add(key, now);
    return found ?? { closed: 'gone' };
  }

  async shut(c: Context<WebEnv>, { closed }: Closed): Promise<Response> {
    if (closed === 'gone') sayGone(c);
    return c.html(await plainPage(c, this.deps, closed), closed === 'gone' ? 404 : 429);
  }

  /** Shows a page, after doing what its form asks where one was sent. */
  async answer(c: Context<WebEnv>, door: Door, sent: Sent): Promise<Response> {
    const found = await this.knock(c, door, sent !== null);
    if ('closed' in found) return this.shut(c, found);
    const path = c.req.path;
    if (sent === null) {
      const before = takeSaid(c, path);
      return this.show(c, door, before?.what ?? null, before?.sent);
    }
    const fields = await sent();
    const what = await this.take(c, door, fields);
    return isOneClick(fields) ? this.show(c, door, what) : this.back(c, door, what, fields);
  }

  /** Leads to the page by its own address, which says what became of its form: back and reload send nothing again. */
  async back(
    c: Context<WebEnv>,
    door: Door,
    what: PageSaid,
    fields: Fields,
    path = c.req.path,
  ): Promise<Response> {
    if (keepSaid(c, path, what, fields)) return c.redirect(path, 303);
    return this.show(c, door, what, what.isFault ? fields : {});
  }

  async show(c: Context<WebEnv>, door: Door, what: PageSaid | null, sent: Fields = {}): Promise<Response> {
    const markup = await this.look(c, door, sent, async (tx, view) => {
      if (view.opened.isExpired) return expiredMarkup(view, what);
      if (door.purpose === 'page') keepOnDevice(c, tokenIn(view.ownPage()));
      const { page, part } = door;
      const body = await page.show(tx, view);
      return riderMarkup(view, {
        title: page.title(view.texts),
        what,
        body,
        part,
        staysOpen: page.staysOpen,
        script: page.script,
      });
    });
    if (markup === null) return c.html(await plainPage(c, this.deps, 'gone'), 404);
    return c.html(markup, what?.isFault ? 422 : 200);
  }

  /** Reads what a page shows in the transaction that opened its link; null where it opens nothing. */
  look<T>(
    c: Context<WebEnv>,
    door: Door,
    sent: Fields,
    show: (tx: Tx, view: RiderView) => Promise<T>,
  ): Promise<T | null> {
    const now = this.deps.clock.now();
    return this.deps.store.read(async (tx) => {
      const opened = await this.find(tx, c, door, now);
      return opened && show(tx, await this.view(tx, c, door, opened, now, sent));
    });
  }

  /** Checks the link again in the transaction that does what its form asks. */
  private async take(c: Context<WebEnv>, door: Door, fields: Fields): Promise<PageSaid> {
    const now = this.deps.clock.now();
    let view: RiderView | null = null;
    const what = await this.deps.store
      .write(async (tx): Promise<PageSaid> => {
        const opened = await this.find(tx, c, door, now);
        if (!opened) throw new HTTPException(404);
        view = await this.view(tx, c, door, opened, now);
        if (!opened.isExpired) return door.page.take(tx, view, fields);
        if (fields.action !== 'fresh') return fault(view.texts.expired.says);
        await queueFreshLink(tx, opened.link, now, this.rider.ids);
        return done(view.texts.expired.sent);
      })
      .catch((error: unknown) => refusalAsSaid(error, view));
    await this.refresh();
    return what;
  }

  refresh(): Promise<void> {
    return refreshSome(this.deps);
  }
}

/** The token at the end of a link. */
const tokenIn = (link: string): string => decodeURIComponent(link.slice(link.lastIndexOf('/') + 1));

/** The address of the rider's own page, as it was opened. */
const homeOf = (c: Context<WebEnv>): string => {
  const token = c.req.param('token');
  return token === undefined ? DEVICE_HOME : `/r/page/${encodeURIComponent(token)}`;
};

const expiredMarkup = (view: RiderView, what: PageSaid | null): Markup => {
  const { expired } = view.texts;
  const ask = form(html`<input type="hidden" name="action" value="fresh">${submit(expired.submit, true)}`);
  const body = html`<p>${expired.says}</p>${ask}`;
  return riderMarkup({ ...view, home: null }, { title: expired.title, what, body });
};

/** What the ledger refuses is for the person; nothing was changed. */
function refusalAsSaid(error: unknown, view: RiderView | null): PageSaid {
  if (!(error instanceof ServiceError) || error.code !== 'refused' || view === null) throw error;
  return fault(refusedText(error, { ...view.voice, today: view.today, zone: view.workshop.timeZone }));
}
