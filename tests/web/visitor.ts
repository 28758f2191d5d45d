import type { Hono } from 'hono';
import type { WebEnv } from '../../src/web/viewer.js';
import { NAME, PASSWORD } from './webWorld.js';

const ORIGIN = 'http://localhost';
type Fields = Readonly<Record<string, string | readonly string[]>>;

/** A browser as far as these tests need one: it keeps its cookie and sends forms from the site's own pages. */
export class Visitor {
  readonly #cookies = new Map<string, string>();
  constructor(
    readonly app: Hono<WebEnv>,
    readonly origin = ORIGIN,
  ) {}

  get cookie(): string {
    return [...this.#cookies].map(([name, value]) => `${name}=${value}`).join('; ');
  }

  /** Takes up a cookie that was come by in another way. */
  take(cookie: string): void {
    this.#cookies.clear();
    this.#keep(cookie);
  }

  async get(path: string): Promise<Response> {
    return this.#kept(await this.app.request(this.origin + path, { headers: { cookie: this.cookie } }));
  }

  async text(path: string): Promise<string> {
    return (await this.get(path)).text();
  }

  async post(
    path: string,
    fields: Fields,
    headers: Readonly<Record<string, string>> = {},
  ): Promise<Response> {
    const body = new URLSearchParams(
      Object.entries(fields).flatMap(([name, value]) =>
        [value].flat().map((one): [string, string] => [name, one]),
      ),
    );
    const response = await this.app.request(this.origin + path, {
      method: 'POST',
      headers: { origin: this.origin, cookie: this.cookie, ...headers },
      body,
    });
    return this.#kept(response);
  }

  /** Sends a form with the token that stands on the page. */
  async send(page: string, path: string, fields: Fields): Promise<Response> {
    return this.post(path, { token: await this.tokenOn(page), ...fields });
  }

  async tokenOn(page: string): Promise<string> {
    const token = /name="token" value="([\w-]+)"/.exec(await this.text(page))?.[1];
    if (token === undefined) throw new Error(`${page} has no form with a token`);
    return token;
  }

  signIn(password = PASSWORD, name = NAME): Promise<Response> {
    return this.post('/sign-in', { name, password });
  }

  #kept(response: Response): Response {
    for (const line of response.headers.getSetCookie()) this.#keep(line.split(';')[0]!);
    return response;
  }

  #keep(cookie: string): void {
    const [name = '', ...value] = cookie.split('=');
    this.#cookies.set(name, value.join('='));
  }
}

export async function signedIn(app: Hono<WebEnv>, origin = ORIGIN): Promise<Visitor> {
  const visitor = new Visitor(app, origin);
  const response = await visitor.signIn();
  if (response.status !== 303) throw new Error(`the sign-in was answered with ${response.status}`);
  return visitor;
}

const SIGNS: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };

/** Returns what a person reads on a page. */
export const plain = (markup: string): string =>
  markup
    .replace(/<[^>]*>/g, ' ')
    .replace(/&([a-z]+|#39);/g, (all, name: string) => SIGNS[name] ?? all)
    .replace(/\s+/g, ' ')
    .trim();
