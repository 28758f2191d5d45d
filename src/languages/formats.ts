/** Formats by locale, each made once: making one costs a hundred times what using it does. */
const kept = new Map<string, unknown>();

function keep<T>(of: readonly unknown[], make: () => T): T {
  const key = JSON.stringify(of);
  const known = kept.get(key) as T | undefined;
  if (known !== undefined) return known;
  const made = make();
  kept.set(key, made);
  return made;
}

export const numberFormat = (locale: string, options: Intl.NumberFormatOptions): Intl.NumberFormat =>
  keep(['number', locale, options], () => new Intl.NumberFormat(locale, options));

export const dateFormat = (locale: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat =>
  keep(['date', locale, options], () => new Intl.DateTimeFormat(locale, options));

export const listFormat = (locale: string, options: Intl.ListFormatOptions): Intl.ListFormat =>
  keep(['list', locale, options], () => new Intl.ListFormat(locale, options));

/** Numbers that people typed: no decimal is lost. */
export const exactFormat = (locale: string): Intl.NumberFormat =>
  numberFormat(locale, { maximumFractionDigits: 6 });
