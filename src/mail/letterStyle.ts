import { html } from 'hono/html';

const FONT = "font-family:system-ui,-apple-system,'Segoe UI',Roboto,'Helvetica Neue',Arial,sans-serif";

/** Inline styles, for the mail readers that drop style sheets: light, one column. */
export const TONE = {
  page: `margin:0;padding:16px 8px;background:#edefec;color:#20262a;${FONT};font-size:16px;line-height:1.5`,
  sheet:
    'max-width:560px;margin:0 auto;overflow-wrap:break-word;padding:22px 20px 24px;background:#ffffff;border-top:4px solid #24566b;box-sizing:border-box',
  head: 'margin:0 0 14px;font-size:14px;font-weight:600;color:#24566b',
  title: 'margin:0 0 16px;font-size:23px;line-height:1.25;font-weight:700',
  heading: 'margin:26px 0 8px;font-size:18px;line-height:1.3;font-weight:700',
  table: 'width:100%;border-collapse:collapse;margin:0 0 14px',
  label:
    'padding:7px 12px 7px 0;text-align:left;vertical-align:top;font-weight:400;color:#566066;border-bottom:1px solid #dfe3e0;width:42%',
  value: 'padding:7px 0;vertical-align:top;font-weight:500;border-bottom:1px solid #dfe3e0',
  column:
    'padding:0 12px 6px 0;text-align:left;font-size:14px;font-weight:400;color:#566066;border-bottom:1px solid #dfe3e0',
  lead: 'padding:10px 12px 10px 0;vertical-align:top;width:32%;border-bottom:1px solid #dfe3e0',
  entry: 'padding:10px 0;vertical-align:top;border-bottom:1px solid #dfe3e0',
  small: 'font-size:14px;line-height:1.4;color:#566066',
  mark: 'display:inline-block;padding:0 6px;font-size:13px;font-weight:600;color:#24566b;border:1px solid #24566b;border-radius:3px',
  link: 'color:#24566b;text-decoration:underline',
  other: 'display:inline-block;margin:0 18px 0 0;padding:9px 0',
  button:
    'display:inline-block;padding:13px 22px;background:#24566b;color:#ffffff;text-decoration:none;font-weight:600;border-radius:5px',
  warning: 'margin:0 0 16px;padding:12px 14px;border:2px solid #20262a;border-radius:5px',
  cautions: 'margin:22px 0 0;padding:14px 16px;background:#f3f1ea;border-radius:5px;font-size:15px',
  foot: 'margin:18px 0 0;padding:12px 0 0;border-top:1px solid #dfe3e0;font-size:14px;color:#566066',
} as const;

/** The same in the dark, where the reader's device asks for it; `!important` because it stands against inline styles. */
export const STYLE = html`<style>
:root{color-scheme:light dark;supported-color-schemes:light dark}
@media (min-width:600px){.page{padding:32px 16px!important}.sheet{padding:30px 36px 34px!important}}
@media (prefers-color-scheme:dark){
.page{background:#14181a!important;color:#e6e8e5!important}
.sheet{background:#1e2427!important;border-top-color:#8fc4d8!important}
.ink{color:#a5d3e4!important}
.quiet{color:#aab4b8!important}
.line{border-bottom-color:#39434a!important}
.mark{color:#a5d3e4!important;border-color:#a5d3e4!important}
.button{background:#a5d3e4!important;color:#10222a!important}
.warning{border-color:#e6e8e5!important}
.cautions{background:#2a3034!important}
.quiet[style*="border-top"]{border-top-color:#39434a!important}
}
</style>`;
