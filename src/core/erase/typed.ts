/** Where facts hold what people typed, beside words of the program’s own. */
import type { FactBodies, FactKind } from '../ledger/facts.js';
import { isTypedLook } from '../ledger/findings.js';

/** By kind, the fields of free text; of those that hold many by name, all or the ones typed. */
const TYPED: Readonly<Partial<Record<FactKind, readonly string[]>>> = {
  bike: ['name'],
  unit: ['spec'],
  sheet: ['values'],
  service: ['note', 'price', 'findings'],
  hours: ['note'],
  unrecorded: ['note'],
  declared: ['note'],
  hire: ['note'],
  mark: ['why'],
  inspection: ['note', 'findings'],
  job: ['wish', 'price', 'missing'],
  jobQuestion: ['why', 'price'],
  claim: ['what', 'sentTo', 'answer'],
  heard: ['what'],
  setUp: ['name', 'values'],
  booking: ['wish'],
};

/** Returns a fact’s body with each typed text changed; all else stays as it is. */
export function retyped<K extends FactKind>(
  kind: K,
  body: FactBodies[K],
  change: (text: string) => string,
): FactBodies[K] {
  const left: Record<string, unknown> = { ...body };
  for (const field of TYPED[kind] ?? []) {
    const value = left[field];
    if (typeof value === 'string') left[field] = change(value);
    else if (value !== null && typeof value === 'object') left[field] = retypedAll(field, value, change);
  }
  return left as unknown as FactBodies[K];
}

const retypedAll = (field: string, value: object, change: (text: string) => string): object =>
  Object.fromEntries(
    Object.entries(value as Record<string, unknown>).map(([name, text]) => [
      name,
      typeof text === 'string' && (field !== 'findings' || isTypedLook(name)) ? change(text) : text,
    ]),
  );
