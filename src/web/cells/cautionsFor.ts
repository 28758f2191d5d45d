import type { UnitSort } from '../../core/ledger/serviceKinds.js';

/** What can hurt whoever opens it: air, a coil or gas under pressure, a steel stud. Common practice, no source. */
export const cautionsFor = ({
  unitKind,
  spring,
}: UnitSort): readonly ('air' | 'coil' | 'shock' | 'fork' | 'all')[] => [
  unitKind === 'coil-shock' || (unitKind === 'fork' && spring === 'coil') ? 'coil' : 'air',
  unitKind === 'fork' ? 'fork' : 'shock',
  'all',
];
