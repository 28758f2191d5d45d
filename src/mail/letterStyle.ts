import { html } from 'hono/html';
import { CORNER, DARK, HEAD_TYPE, LIGHT, TEXT_TYPE } from '../palette.js';

const LINE = `border-bottom:1px solid ${LIGHT.rule}`;

/** Inline styles, for the mail readers that drop style sheets: light, one column. */
export const TONE = {
  page: `margin:0;padding:16px 8px;background:${LIGHT.wash};color:${LIGHT.ink};font-family:${TEXT_TYPE};font-size:16px;line-height:1.5`,
  sheet: `max-width:560px;margin:0 auto;overflow-wrap:break-word;padding:22px 20px 24px;background:${LIGHT.paper};border-top:4px solid ${LIGHT.accent};box-sizing:border-box`,
  head: `margin:0 0 14px;font-family:${HEAD_TYPE};font-size:16px;font-weight:600;color:${LIGHT.accent}`,
  title: `margin:0 0 16px;font-family:${HEAD_TYPE};font-size:25px;line-height:1.25;font-weight:600`,
  heading: `margin:26px 0 8px;font-family:${HEAD_TYPE};font-size:19px;line-height:1.3;font-weight:600`,
  table: 'width:100%;border-collapse:collapse;margin:0 0 14px',
  label: `padding:7px 12px 7px 0;text-align:left;vertical-align:top;font-weight:400;color:${LIGHT.soft};${LINE};width:42%`,
  value: `padding:7px 0;vertical-align:top;font-weight:500;${LINE}`,
  column: `padding:0 12px 6px 0;text-align:left;font-size:14px;font-weight:400;color:${LIGHT.soft};${LINE}`,
  lead: `padding:10px 12px 10px 0;vertical-align:top;width:32%;${LINE}`,
  entry: `padding:10px 0;vertical-align:top;${LINE}`,
  small: `font-size:14px;line-height:1.4;color:${LIGHT.soft}`,
  mark: `display:inline-block;padding:0 6px;font-size:13px;font-weight:600;color:${LIGHT.accent};border:1px solid ${LIGHT.accent};border-radius:${CORNER}`,
  link: `color:${LIGHT.accent};text-decoration:underline`,
  other: 'display:inline-block;margin:0 18px 0 0;padding:9px 0',
  button: `display:inline-block;padding:13px 22px;background:${LIGHT.accent};color:${LIGHT.onAccent};text-decoration:none;font-weight:600;border-radius:${CORNER}`,
  warning: `margin:0 0 16px;padding:12px 14px;border:2px solid ${LIGHT.ink};border-radius:${CORNER}`,
  cautions: `margin:22px 0 0;padding:14px 16px;background:${LIGHT.wash};border-radius:${CORNER};font-size:15px`,
  foot: `margin:18px 0 0;padding:12px 0 0;border-top:1px solid ${LIGHT.rule};font-size:14px;color:${LIGHT.soft}`,
} as const;

/** The same in the dark, where the reader's device asks for it; `!important` because it stands against inline styles. */
export const STYLE = html`<style>
:root{color-scheme:light dark;supported-color-schemes:light dark}
@media (min-width:600px){.page{padding:32px 16px!important}.sheet{padding:30px 36px 34px!important}}
@media (prefers-color-scheme:dark){
.page{background:${DARK.paper}!important;color:${DARK.ink}!important}
.sheet{background:${DARK.wash}!important;border-top-color:${DARK.accent}!important}
.ink{color:${DARK.accent}!important}
.quiet{color:${DARK.soft}!important}
.line{border-bottom-color:${DARK.rule}!important}
.mark{color:${DARK.accent}!important;border-color:${DARK.accent}!important}
.button{background:${DARK.accent}!important;color:${DARK.onAccent}!important}
.warning{border-color:${DARK.ink}!important}
.cautions{background:${DARK.paper}!important}
.quiet[style*="border-top"]{border-top-color:${DARK.rule}!important}
}
</style>`;
