/** Prints what the estimates rest on: all of it, or only the parts named as arguments. */
import { climbEvidence } from './climbs/climbEvidence.js';
import { colourEvidence } from './colourEvidence.js';
import { declaredEvidence } from './declaredEvidence.js';
import { forecastEvidence } from './forecastEvidence.js';
import { joinEvidence } from './joinEvidence.js';
import { ownWeightsEvidence } from './ownWeightsEvidence.js';
import { recorderEvidence } from './recorderEvidence.js';
import { ringsEvidence } from './ringsEvidence.js';
import { severityEvidence } from './severityEvidence.js';
import { tradeEvidence } from './tradeEvidence.js';

const PARTS: Readonly<Record<string, () => Promise<string>>> = {
  severity: severityEvidence,
  recorders: recorderEvidence,
  trade: tradeEvidence,
  climbs: climbEvidence,
  forecast: forecastEvidence,
  declared: declaredEvidence,
  joining: joinEvidence,
  rings: ringsEvidence,
  weights: ownWeightsEvidence,
  colour: colourEvidence,
};

const asked = process.argv.slice(2);
for (const name of asked) if (PARTS[name] === undefined) throw new Error(`No evidence is called ${name}`);
for (const [name, evidence] of Object.entries(PARTS))
  if (asked.length === 0 || asked.includes(name)) process.stdout.write(`${await evidence()}\n\n`);
