import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { html, when } from '../../src/mail/html.js';

describe('html', () => {
  it('escapes text, and keeps markup', () => {
    const inner = html`<b title="${`"'&<>`}">x</b>`;
    expect(html`<p>${inner}${'<i>'}${[html`1`, html`2`]}</p>`.markup).toBe(
      '<p><b title="&quot;&#39;&amp;&lt;&gt;">x</b>&lt;i&gt;12</p>',
    );
  });

  it('lets no text out of its place', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary-ascii' }), (text) => {
        const { markup } = html`${text}`;
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

  it('writes a part only when asked to', () => {
    expect(html`a${when(false, () => html`b`)}${when(true, () => html`c`)}`.markup).toBe('ac');
  });
});
