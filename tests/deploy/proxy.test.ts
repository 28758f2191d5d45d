/** The guide's two reverse proxies, as the guide has them, in front of the real program. */
import { describe, expect, it } from 'vitest';
import { fileForm, PASSWORD } from '../attacks/openDoor.js';
import { behind, HOST, isLeftOut, METRICS } from './behind.js';

const FORM = { 'content-type': 'application/x-www-form-urlencoded' };
const signIn = (password: string) => new URLSearchParams({ name: 'owner', password }).toString();

describe.each(['nginx', 'haproxy'] as const)('behind %s, set up as the guide says', (program) => {
  const isOut = isLeftOut(program);
  it.skipIf(isOut)(
    `people sign in by HTTPS, each by their own address, and figures stay inside (left out where there is no ${program})`,
    async () => {
      const { door, ask, ports, logged } = await behind(program);
      expect(JSON.parse((await ask('/healthz')).text)).toEqual({ ok: true });
      expect((await ask('/metrics')).status).toBe(404);
      const shown = await ask('/metrics', { headers: { authorization: `Bearer ${METRICS}` } });
      expect([shown.status, shown.text]).toEqual([200, expect.stringContaining('stanchion_ready 1')]);

      const from = '127.3.0.1';
      for (let i = 0; i < 8; i++)
        await ask('/sign-in', { from, method: 'POST', headers: FORM, body: signIn('x'.repeat(201)) });
      const post = { method: 'POST', body: signIn(PASSWORD) } as const;
      expect((await ask('/sign-in', { ...post, from, headers: FORM })).status).toBe(429);
      for (const name of ['x-forwarded-for', 'forwarded', 'x-real-ip']) {
        const lied = await ask('/sign-in', { ...post, from, headers: { ...FORM, [name]: '198.51.100.9' } });
        expect([name, lied.status]).toEqual([name, 429]);
      }
      const owner = await ask('/sign-in', { ...post, from: '127.3.0.2', headers: FORM });
      expect(owner.status).toBe(303);
      const session = owner.headers['set-cookie']!.find((line) => line.startsWith('__Host-session='))!;
      expect(session).toMatch(/; Secure/);
      expect(owner.headers['strict-transport-security']).toMatch(/^max-age=\d+/);
      const today = await ask('/', { headers: { cookie: session.split(';')[0]! } });
      expect(today.status).toBe(200);

      const home = await door.linkOf('r1', 'page');
      const { type, before, after } = fileForm('large.fit');
      const answer = await ask(`${home}/files`, {
        method: 'POST',
        headers: { 'content-type': type, accept: 'application/json' },
        body: Buffer.concat([before, Buffer.alloc(60_000_000), after]),
      });
      expect([answer.status, JSON.parse(answer.text).answers.length]).toEqual([200, 1]);

      const plain = await fetch(`http://127.0.0.1:${ports.http}/due`, {
        headers: { host: HOST },
        redirect: 'manual',
      });
      expect(plain.status).toBe(301);
      expect(plain.headers.get('location')).toMatch(/^https:\/\/[^/]+\/due$/);
      await door.serving.stop();
      expect((await ask(home)).status).toBeGreaterThanOrEqual(502);
      expect(logged()).not.toContain('/r/page/');
    },
    120_000,
  );
});
