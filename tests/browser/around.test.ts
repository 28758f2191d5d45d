/**
 * What happens weekly around a service, on a phone and a tablet: taps are counted, pages measured, and nothing goes
 * wrong unseen. A tap is what a finger does beside typing; a choice from a list is two.
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { expect, it, onTestFinished } from 'vitest';
import { addService } from '../../src/flow/facts/enterFacts.js';
import { askJob } from '../../src/flow/facts/jobQuestions.js';
import { arrive, findStay } from '../../src/flow/facts/jobs.js';
import { queueJobQuestion } from '../../src/flow/mail/kinds/jobQuestion.js';
import { day } from '../../src/units.js';
import { startWeb } from '../../src/web/serve.js';
import { rideFile } from '../flow/flowWorld.js';
import { DOCUMENT, linkOf, RiderWorld } from '../flow/riderWorld.js';
import { NOW, webWorld } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, openBrowser, served, signIn, WHY_NOT, watch } from './browser.js';

/** A folder for pictures of the pages, to look at. */
const { STANCHION_PICTURES: PICTURES } = process.env;
const WIDTHS = [390, 820];

/** A finger that counts. */
class Finger {
  taps = 0;
  constructor(
    readonly page: Page,
    readonly name: string,
  ) {}
  async tap(what: Locator): Promise<void> {
    this.taps += 1;
    await what.click();
  }
  /** Looks at the page as it is now: it fits, and anybody can use it. */
  async look(step: string): Promise<void> {
    const { page } = this;
    expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth'), step).toBe(true);
    await expectAccessible(page);
    if (PICTURES === undefined) return;
    mkdirSync(PICTURES, { recursive: true });
    await page.screenshot({ path: join(PICTURES, `${this.name}-${step}.png`), fullPage: true });
  }
}

/** A rider's own page, as its link in a mail opens it. */
async function ownPage(width: number, document: object = DOCUMENT) {
  const world = await RiderWorld.open({ document, publicUrl: 'http://bench.example.org', isOneClick: false });
  const home = new URL(linkOf(await world.reminderTo('r1@example.org'), 'page')).pathname;
  const pages = await startWeb(world.app, { host: '127.0.0.1', port: 0 });
  onTestFinished(() => pages.close());
  const page = await (await openBrowser({ viewport: { width, height: 844 } })).newPage();
  const { complaints } = watch(page);
  await page.goto(pages.url + home);
  return { world, page, complaints, home: pages.url + home };
}

async function counter(width: number, document?: object) {
  const world = await webWorld(document === undefined ? {} : { document });
  const page = await (await openBrowser({ viewport: { width, height: 900 } })).newPage();
  const { complaints } = watch(page);
  const origin = await served(world);
  await signIn(page, origin);
  return { world, page, complaints, origin };
}

it.runIf(hasBrowser).each(WIDTHS)(
  `a rider who will never send a file says how much, at %i px${WHY_NOT}`,
  { timeout: 60_000 },
  async (width) => {
    const { page, complaints, home } = await ownPage(width);
    const finger = new Finger(page, `declared-${width}`);
    await finger.tap(page.getByRole('link', { name: /Moss Hopper/ }).last());
    await page.getByLabel('Hours a week, about').fill('4');
    await finger.look('asked');
    await finger.tap(page.getByText('April to October', { exact: true }));
    await page.getByLabel('Since', { exact: true }).fill('2026-05-13');
    await finger.tap(page.getByRole('button', { name: 'Count these hours' }));
    expect(await page.getByRole('status').textContent()).toContain('marked as declared');
    expect(finger.taps).toBeLessThanOrEqual(4);
    await page.goto(home);
    // Nine days of four hours a week since the day of which the fork's hours are known.
    expect(await page.getByRole('main').textContent()).toMatch(/57\.1\sh of 50\sh; 5\.1\sh of it declared/);
    await finger.look('counted');
    expect(complaints).toEqual([]);
  },
);

it.runIf(hasBrowser).each(WIDTHS)(
  `the counter writes down what a rider says of unrecorded riding, at %i px${WHY_NOT}`,
  { timeout: 60_000 },
  async (width) => {
    const { page, complaints, origin } = await counter(width);
    await page.goto(`${origin}/bikes/b2`);
    const finger = new Finger(page, `declared-counter-${width}`);
    await page.getByLabel('Hours a week, about').fill('2.5');
    await page.getByLabel('Since', { exact: true }).fill('2026-05-13');
    await finger.tap(page.locator('label.tap', { hasText: 'rough' }));
    await finger.tap(page.getByRole('button', { name: 'Count these hours' }));
    expect(finger.taps).toBeLessThanOrEqual(4);
    const said = await page.getByRole('main').textContent();
    expect(said).toMatch(/about 2.5\sh a week, mostly rough ground, all year, since 13 May/);
    await finger.look('said');
    await page.goto(`${origin}/units/F-0002`);
    expect(await page.getByRole('main').textContent()).toContain('declared, not recorded');
    await finger.look('unit');
    expect(complaints).toEqual([]);
  },
);

it.runIf(hasBrowser).each(WIDTHS)(
  `a fork is written down as it came, and leaves so, at %i px${WHY_NOT}`,
  { timeout: 60_000 },
  async (width) => {
    const { page, complaints, origin } = await counter(width);
    await page.goto(`${origin}/units/F-0001`);
    const finger = new Finger(page, `set-up-${width}`);
    await finger.tap(page.getByRole('link', { name: /Set-up/ }));
    expect(await page.locator('main input:visible').count()).toBeLessThanOrEqual(8);
    // Nothing stands there before somebody typed it.
    for (const input of await page.locator('main input:visible').all())
      expect(await input.inputValue()).toBe('');
    const typed = { Pressure: '82 / 65 psi, bench pump', Sag: '30 mm', 'Rebound, clicks': '9', Tokens: '2' };
    for (const [label, value] of Object.entries(typed))
      await page.getByLabel(label, { exact: true }).fill(value);
    await finger.look('form');
    await finger.tap(page.getByRole('button', { name: 'As it came', exact: true }));
    await finger.tap(page.getByRole('button', { name: 'Set back as it came' }));
    expect(await page.getByRole('heading', { name: /As it left, 10 June/ }).count()).toBe(1);
    expect(finger.taps).toBeLessThanOrEqual(3);
    await finger.look('left');
    await page.goto(`${origin}/units/F-0001/card`);
    const card = await page.getByRole('main').textContent();
    expect(card).toMatch(
      /Set back to.*Pressure 82 \/ 65 psi, bench pump.*Sag 30 mm.*Rebound, clicks 9.*Tokens 2/s,
    );
    await finger.look('card');
    expect(complaints).toEqual([]);
  },
);

it.runIf(hasBrowser).each(WIDTHS)(
  `a job changes on the bench, is asked by mail and answered on the rider’s page, at %i px${WHY_NOT}`,
  { timeout: 60_000 },
  async (width) => {
    const { world, page, complaints, home } = await ownPage(width);
    const unitId = await world.flow.id('unit', 'F-1');
    await world.store.write((tx) => arrive(tx, unitId, {}, world.flow.entry));
    const asked = {
      from: 'lower-leg',
      to: 'full',
      why: 'The rings are dark.',
      price: '190 €',
      day: day('2026-06-12'),
    };
    await world.store.write(async (tx) => {
      await askJob(tx, unitId, asked, world.flow.entry);
      expect(await queueJobQuestion(tx, unitId, world.flow.entry.at, world.deps.ids)).toBe(true);
    });
    const mail = (await world.beat()).find(({ to }) => to.address === 'r1@example.org')!;
    expect(mail.subject).toBe('May we do more? Moss Hopper');
    expect(mail.text.replaceAll(/\s+/g, ' ')).toContain(
      'We advise a full service in place of the lower-leg service.',
    );
    await page.goto(home);
    const finger = new Finger(page, `changed-rider-${width}`);
    await finger.tap(page.getByRole('link', { name: /The workshop asks you/ }));
    await finger.look('asked');
    await finger.tap(page.getByRole('button', { name: 'Yes, do it' }));
    expect(await page.getByRole('status').textContent()).toContain('The workshop knows');
    expect(finger.taps).toBeLessThanOrEqual(2);
    const stay = await world.store.read((tx) => findStay(tx, unitId));
    expect(stay?.job).toMatchObject({ price: '190 €', promisedFor: '2026-06-12' });
    expect(complaints).toEqual([]);
  },
);

it.runIf(hasBrowser).each(WIDTHS)(
  `the bench asks whether another job may be done, and hears not now by phone, at %i px${WHY_NOT}`,
  { timeout: 60_000 },
  async (width) => {
    const { world, page, complaints, origin } = await counter(width);
    await world.store.write(async (tx) =>
      arrive(tx, (await tx.handles.find('unit', 'F-0001'))!, {}, { by: 'owner', at: NOW }),
    );
    await page.goto(`${origin}/bench`);
    const finger = new Finger(page, `changed-bench-${width}`);
    await finger.tap(page.getByText('The job changed', { exact: true }));
    await page.getByLabel('What was seen').fill('The rings are dark.');
    await page.getByLabel('Promised price').first().fill('190 €');
    await page.getByLabel('Ready by').fill('2026-06-12');
    await finger.look('form');
    await finger.tap(page.getByRole('button', { name: 'Ask Pia Lanternby' }));
    expect(await page.getByRole('main').textContent()).toContain(
      'Waiting for a yes: full service, 190 €, Friday',
    );
    await finger.look('waits');
    await finger.tap(page.getByRole('button', { name: 'Not now' }));
    expect(finger.taps).toBeLessThanOrEqual(5);
    await page.goto(`${origin}/units/F-0001/card`);
    const card = await page.getByRole('main').textContent();
    expect(card).toContain('Advised on 10 June 2026 and not wanted then: full service. The rings are dark.');
    await finger.look('card');
    expect(complaints).toEqual([]);
  },
);

it.runIf(hasBrowser).each(WIDTHS)(
  `a rider says that something is wrong since a service, and the workshop knows whom to call, at %i px${WHY_NOT}`,
  { timeout: 60_000 },
  async (width) => {
    const { world, page, complaints, home } = await ownPage(width);
    const unitId = await world.flow.id('unit', 'F-1');
    const service = { unitId, serviceKind: 'lower-leg', on: day('2026-06-02'), by: 'here' } as const;
    await world.store.write((tx) =>
      addService(tx, { ...service, findings: null, note: null }, world.flow.entry),
    );
    for (const on of ['2026-06-03', '2026-06-04'])
      await world.flow.take(rideFile(`${on}T10:00:00Z`, 60), { bike: 'b1' });
    await page.goto(home);
    const finger = new Finger(page, `after-service-${width}`);
    await finger.tap(page.locator('a[href$="/units/F-1"]').first());
    await page.getByText('Is all well since the service?').waitFor();
    await finger.look('asked');
    await page.getByLabel('What is wrong').fill('it weeps at the left seal');
    await finger.tap(page.getByRole('button', { name: 'Tell the workshop' }));
    await page.getByText('If in doubt, do not ride.').waitFor();
    expect(finger.taps).toBeLessThanOrEqual(2);
    await finger.look('told');
    expect(complaints).toEqual([]);
  },
);

it.runIf(hasBrowser).each(WIDTHS)(
  `a claim under warranty is opened, and a shock goes on loan, at %i px${WHY_NOT}`,
  { timeout: 60_000 },
  async (width) => {
    const { page, complaints, origin } = await counter(width);
    await page.goto(`${origin}/units/F-0001`);
    const claim = new Finger(page, `claim-${width}`);
    await claim.tap(page.getByRole('heading', { name: 'Claim under warranty' }));
    await page.getByLabel('What is wrong').fill('bushings loose');
    await claim.look('form');
    await claim.tap(page.getByRole('button', { name: 'Save the claim' }));
    await page.getByText('claim under warranty: bushings loose; opened').first().waitFor();
    expect(claim.taps).toBeLessThanOrEqual(2);
    await page.goto(`${origin}/comebacks`);
    await page.getByText('bushings loose').waitFor();
    await claim.look('look');

    await page.goto(`${origin}/units/A-0001`);
    const loan = new Finger(page, `loan-${width}`);
    await loan.tap(page.getByRole('heading', { name: 'On which bike' }));
    await page.locator('[name=fitBike]').selectOption('b1');
    loan.taps += 2;
    await page.getByLabel('On loan until').fill('2026-06-14');
    await loan.look('form');
    await loan.tap(page.getByRole('button', { name: 'Put it on this bike' }));
    await page.getByText('The fitting is saved').waitFor();
    expect(loan.taps).toBeLessThanOrEqual(4);
    await page.goto(`${origin}/units/A-0001/book`);
    await page
      .getByText(/14 June/)
      .first()
      .waitFor();
    await loan.look('book');
    expect(complaints).toEqual([]);
  },
);
