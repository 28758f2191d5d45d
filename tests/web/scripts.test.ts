import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Script } from 'node:vm';
import { expect, it } from 'vitest';
import { OWN_WORKER, SCRIPTS } from '../../src/web/scripts.js';
import { BUILT } from '../fixtures/program.js';

it('what runs in a browser is the same in the built program', () => {
  expect(SCRIPTS.size).toBeGreaterThan(5);
  for (const [name, text] of SCRIPTS)
    expect(readFileSync(join(BUILT, 'src/web/browser', name), 'utf8'), name).toBe(text);
});

it('the worker is a script by itself, as a browser without module workers takes it', () => {
  expect(OWN_WORKER.length).toBeGreaterThan(1000);
  expect(() => new Script(OWN_WORKER)).not.toThrow();
  expect(() => new Script(`${OWN_WORKER}\nexport {};`)).toThrow(SyntaxError);
});
