/**
 * How a job at home goes, in the order of the bench card. Source: common practice; the maker's manual comes first. No
 * oil, torque or pressure stands here: they are the workshop's typed ones, or the manual's.
 */
import { type FindingStep, type LookField, lookFields, STEPS } from '../ledger/findings.js';
import type { UnitSort } from '../ledger/serviceKinds.js';
import { type SheetLine, sheetLines } from '../ledger/sheet.js';
import type { HomeDeed } from '../tokens.js';

interface Work {
  readonly deeds: Readonly<Record<FindingStep, readonly HomeDeed[]>>;
  /** What this job does not open, and so nobody looks at. */
  readonly closed: readonly string[];
}

const FORK: Work = {
  deeds: {
    before: ['wash', 'off-bike'],
    inside: ['nuts-back', 'lowers-off', 'clean', 'soak-rings', 'fit-seals'],
    after: ['oil-in', 'lowers-on', 'nuts-tight', 'pressure-in', 'on-bike'],
  },
  closed: ['airSpring', 'coilSpring', 'bore', 'springOff'],
};
const SHOCK: Work = {
  deeds: {
    before: ['wash', 'off-bike'],
    inside: ['can-off', 'clean', 'fit-seals'],
    after: ['grease-in', 'can-on', 'pressure-in', 'mounts-tight'],
  },
  closed: ['airSpring', 'oil'],
};

/** Where what the workshop typed from the manual is needed. */
const FIGURES: Readonly<Partial<Record<HomeDeed, readonly SheetLine[]>>> = {
  'nuts-back': ['airSocket', 'springSocket', 'damperSocket'],
  'oil-in': ['airOil', 'airMl', 'springOil', 'springMl', 'damperOil', 'damperMl'],
  'grease-in': ['canOil', 'canMl'],
  'nuts-tight': ['airTorque', 'springTorque', 'damperTorque'],
  'pressure-in': ['pressure', 'pressureMost'],
  'mounts-tight': ['mountTorque', 'mountSocket'],
};

export interface GuideDeed {
  readonly deed: HomeDeed;
  /** What of the sheet belongs here. */
  readonly figures: readonly SheetLine[];
}

export interface GuidePart {
  readonly step: FindingStep;
  readonly deeds: readonly GuideDeed[];
  readonly looks: readonly LookField[];
}

/** Returns the three parts of a job at home: what is done, with its figures, and what is looked at. */
export function homeGuide(sort: UnitSort): GuidePart[] {
  const { deeds, closed } = sort.unitKind === 'fork' ? FORK : SHOCK;
  const lines = sheetLines(sort);
  const looks = lookFields(sort).filter(({ name }) => !closed.includes(name));
  return STEPS.map((step) => ({
    step,
    deeds: deeds[step].map((deed) => ({
      deed,
      figures: (FIGURES[deed] ?? []).filter((name) => lines.includes(name)),
    })),
    looks: looks.filter((one) => one.step === step),
  }));
}
