import { z } from 'zod';
import type { Limits } from '../../flow/facts/intervalsPage.js';
import type { PageTexts } from '../../languages/index.js';

/** What somebody typed, kept as typed so that it can be put right. */
export interface IntervalFields {
  readonly terrainHours: string;
  readonly months: string;
  readonly ceiling: 'usual' | 'none' | 'number';
  readonly ceilingHours: string;
}

export interface IntervalForm {
  readonly fields: IntervalFields;
  /** Null where something is wrong. */
  readonly limits: Limits | null;
  readonly wrong: Readonly<Partial<Record<keyof IntervalFields, string>>>;
}

const text = z.string().trim().max(40).catch('').default('');
const fieldsSchema = z.object({
  terrainHours: text,
  months: text,
  ceiling: z.enum(['usual', 'none', 'number']).catch('usual').default('usual'),
  ceilingHours: text,
});

/** Both signs are in use for the decimal, and nobody sets an interval in thousands. */
const hoursSchema = z
  .string()
  .regex(/^\d{1,5}([.,]\d{1,4})?$/)
  .transform((typed) => Number(typed.replace(',', '.')))
  .pipe(z.number().positive().max(10_000));
const monthsSchema = z
  .string()
  .regex(/^\d{1,3}$/)
  .transform(Number)
  .pipe(z.number().int().min(1).max(240));

/** Returns what a form for an interval says, with what is wrong in words. */
export function readIntervalForm(
  given: Readonly<Record<string, string>>,
  { interval: texts }: PageTexts,
): IntervalForm {
  const fields = fieldsSchema.parse(given);
  const wrong: Partial<Record<keyof IntervalFields, string>> = {};
  const read = <T>(
    schema: z.ZodType<T>,
    name: 'terrainHours' | 'months' | 'ceilingHours',
    say: string,
  ): T | null => {
    const result = schema.safeParse(fields[name]);
    if (!result.success) wrong[name] = say;
    return result.success ? result.data : null;
  };
  const terrainHours = fields.terrainHours === '' ? null : read(hoursSchema, 'terrainHours', texts.needHours);
  const months = fields.months === '' ? null : read(monthsSchema, 'months', texts.needMonths);
  const ceiling =
    fields.ceiling === 'number'
      ? read(hoursSchema, 'ceilingHours', texts.needCeiling)
      : fields.ceiling === 'none'
        ? null
        : 'default';
  const isSound = Object.keys(wrong).length === 0;
  // The usual ceiling follows from the terrain hours, so by itself it limits nothing.
  if (isSound && terrainHours === null && months === null && typeof ceiling !== 'number')
    wrong.terrainHours = texts.needLimit;
  const isWhole = Object.keys(wrong).length === 0;
  return { fields, limits: isWhole ? { terrainHours, months, movingHoursCeiling: ceiling } : null, wrong };
}

const typed = (value: number | null): string => (value === null ? '' : String(value));

/** Returns the form that stands for an interval. */
export const intervalFieldsOf = ({ terrainHours, months, movingHoursCeiling }: Limits): IntervalFields => ({
  terrainHours: typed(terrainHours),
  months: typed(months),
  ceiling: movingHoursCeiling === null ? 'none' : movingHoursCeiling === 'default' ? 'usual' : 'number',
  ceilingHours: typeof movingHoursCeiling === 'number' ? String(movingHoursCeiling) : '',
});
