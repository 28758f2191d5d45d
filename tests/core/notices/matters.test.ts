/** What of the findings still matters to whoever rides, and what was put right. Common practice, no source. */
import { expect, it } from 'vitest';
import { mattersOf, seenBeside, setUpIn } from '../../../src/core/notices/matters.js';

it('tells a crack, a bend and a loose crown before play and scratches', () => {
  const findings = {
    crown: 'loose',
    rods: 'bent',
    bushings: 'some',
    stanchions: 'scratched',
    foamRings: 'dark',
  };
  expect(mattersOf(findings, ['lower-leg'])).toEqual({
    stop: [
      ['crown', 'loose'],
      ['rods', 'bent'],
    ],
    soon: [
      ['bushings', 'some'],
      ['stanchions', 'scratched'],
    ],
  });
});

it('leaves out what the service put right, but never a crack', () => {
  const findings = { damper: 'loses-damping', bushings: 'much', airSpring: 'stuck-down', arch: 'cracked' };
  expect(mattersOf(findings, ['lower-leg']).stop.map(([name]) => name)).toEqual([
    'arch',
    'bushings',
    'damper',
    'airSpring',
  ]);
  expect(mattersOf(findings, ['full'])).toEqual({ stop: [['arch', 'cracked']], soon: [] });
  expect(mattersOf(findings, ['damper']).stop.map(([name]) => name)).not.toContain('damper');
});

it('tells what else was seen, without ticks, set-up and second looks', () => {
  const findings = {
    setUpPressure: '82 psi',
    pressureOut: 'done',
    foamRings: 'dark',
    secondOil: 'Ana',
    crown: 'quiet',
  };
  const matters = mattersOf(findings, []);
  expect(matters).toEqual({ stop: [], soon: [] });
  expect(seenBeside(findings, matters)).toEqual([
    ['crown', 'quiet'],
    ['foamRings', 'dark'],
  ]);
  expect(setUpIn(findings)).toEqual([['setUpPressure', '82 psi']]);
});
