import fc from 'fast-check';
import { html } from 'hono/html';
import { expect, it } from 'vitest';

// Pages and mails are written with this template: on it hangs that no text becomes markup.
it('escapes text, and keeps markup', () => {
  const inner = html`<b title="${`"'&<>`}">x</b>`;
  expect(html`<p>${inner}${'<i>'}${[html`1`, html`2`]}</p>`.toString()).toBe(
    '<p><b title="&quot;&#39;&amp;&lt;&gt;">x</b>&lt;i&gt;12</p>',
  );
});

it('lets no text out of its place', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary-ascii' }), (text) => {
      const markup = html`${text}`.toString();
      expect(markup).not.toMatch(/[<>"']/);
      const back = markup
        .replaceAll('&lt;', '<')
        .replaceAll('&gt;', '>')
        .replaceAll('&quot;', '"')
        .replaceAll('&#39;', "'")
        .replaceAll('&amp;', '&');
      expect(back).toBe(text);
    }),
  );
});
