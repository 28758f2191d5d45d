import { dateFormat } from '../../languages/formats.js';

/** Returns the first days of months between two moments, at most so many, with their names; January carries its year. */
export function monthTicks(
  from: number,
  to: number,
  most: number,
  locale: string,
): { readonly ms: number; readonly label: string }[] {
  const first = new Date(from);
  const months: number[] = [];
  for (let month = first.getUTCMonth() + 1; ; month += 1) {
    const ms = Date.UTC(first.getUTCFullYear(), month, 1);
    if (ms >= to) break;
    months.push(ms);
  }
  const step = [1, 2, 3, 6, 12].find((one) => months.length / one <= most) ?? Math.ceil(months.length / most);
  const name = dateFormat(locale, { month: 'short', timeZone: 'UTC' });
  return months
    .filter((ms) => new Date(ms).getUTCMonth() % step === 0)
    .map((ms) => {
      const at = new Date(ms);
      return {
        ms,
        label: at.getUTCMonth() === 0 ? String(at.getUTCFullYear()) : name.format(at).replace('.', ''),
      };
    });
}
