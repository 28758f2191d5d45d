/** Markup that is safe to send as it is. */
export class Html {
  constructor(readonly markup: string) {}
}

export type HtmlValue = string | Html | readonly Html[];

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

const escaped = (text: string): string => text.replace(/[&<>"']/g, (sign) => ENTITIES[sign] ?? '');

const markupOf = (value: HtmlValue): string => {
  if (typeof value === 'string') return escaped(value);
  return value instanceof Html ? value.markup : value.map((part) => part.markup).join('');
};

/** Returns the template as markup, with every text in it escaped. */
export const html = (parts: TemplateStringsArray, ...values: readonly HtmlValue[]): Html =>
  new Html(parts.reduce((all, part, i) => all + markupOf(values[i - 1] ?? '') + part));

/** Returns the markup, or nothing. */
export const when = (condition: boolean, markup: () => Html): Html => (condition ? markup() : new Html(''));
