import { createHash } from 'node:crypto';
import { CORNER, DARK, HEAD_TYPE, LIGHT, TEXT_TYPE } from '../../palette.js';
import { propertiesOf } from './colours.js';
import { COUNTER_STYLE } from './counterStyle.js';
import { PAPER_STYLE } from './paperStyle.js';
import { PLAN_STYLE } from './planStyle.js';
import { SETTINGS_STYLE } from './settingsStyle.js';

/** One colour of its own, for links and buttons; no state is told by colour. */
export const STYLE = `
:root{color-scheme:light dark;${propertiesOf(LIGHT)};
--text:${TEXT_TYPE};
--head:${HEAD_TYPE}}
@media screen and (prefers-color-scheme:dark){:root{${propertiesOf(DARK)}}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.6 var(--text);font-variant-numeric:tabular-nums}
.band,main,.foot{max-width:84rem;margin:0 auto;padding:0 1.5rem}
main{padding-bottom:3rem}
h1,h2,h3,.house{font-family:var(--head);font-weight:600;line-height:1.25;text-wrap:balance}
h1{font-size:2.1rem;margin:2.2rem 0 .4rem;letter-spacing:-.01em}
h2{font-size:1.35rem;margin:2.6rem 0 .6rem}
h3{font-size:1.1rem;margin:1.6rem 0 .3rem}
p,ul,ol,dl{margin:.6rem 0;max-width:44rem}
ul,ol{padding-left:1.3rem}
.lead{color:var(--soft);margin-top:0;max-width:50rem}
.soft,small{color:var(--soft);font-size:.875rem}
strong{font-weight:650}
a{color:var(--accent);text-decoration-thickness:1px;text-underline-offset:.18em}
a:hover{text-decoration-thickness:2px}
:focus-visible,input:focus{outline:3px solid var(--accent);outline-offset:2px;border-radius:${CORNER}}
.skip{position:absolute;left:-99rem;top:0;background:var(--paper);padding:.6rem 1rem;z-index:1}
.skip:focus{left:0}
.top{border-bottom:1px solid var(--rule)}
.band{display:flex;flex-wrap:wrap;align-items:center;gap:.2rem 1.8rem;padding-top:.7rem;padding-bottom:.7rem}
.house{font-size:1.15rem;margin:0}
nav ul{list-style:none;display:flex;flex-wrap:wrap;gap:0 1.2rem;margin:0;padding:0;max-width:none}
nav a{display:inline-block;padding:.5rem 0;text-decoration:none;color:var(--ink);border-bottom:2px solid transparent}
nav a:hover{border-color:var(--rule)}
nav a[aria-current]{border-color:var(--accent);font-weight:650}
.around{flex:1 0 100%;display:flex;flex-wrap:wrap;gap:0 1.6rem}
nav.within{border-left:1px solid var(--edge);padding-left:1.6rem;font-size:.9375rem}
.out{margin-left:auto;display:flex;align-items:center;gap:.9rem}
form{margin:0}
button,.button{font:inherit;font-weight:600;min-height:2.75rem;padding:.45rem 1.2rem;border:1px solid var(--accent);border-radius:${CORNER};background:none;color:var(--accent);cursor:pointer;display:inline-block;text-decoration:none}
button:hover,.button:hover{text-decoration:underline;text-underline-offset:.2em}
button.primary,.button.primary{background:var(--accent);color:var(--on-accent)}
button.quiet{background:none;color:var(--accent);border-color:transparent;padding:.45rem 0;font-weight:400;text-decoration:underline;text-underline-offset:.18em}
label,legend{font-weight:600}
label.tick{font-weight:400;display:flex;gap:.6rem;align-items:center;min-height:2.2rem}
input,select,textarea{font:inherit;color:inherit;background:var(--paper);border:1px solid var(--edge);border-radius:${CORNER};min-height:2.75rem;padding:.4rem .6rem;width:100%;max-width:26rem;display:block}
input[type=radio],input[type=checkbox]{width:1.15rem;height:1.15rem;min-height:0;flex:none;margin:0;accent-color:var(--accent)}
input.short{max-width:9rem}
input[type=date]{max-width:10.5rem}
[aria-invalid=true]{border-width:2px;border-color:var(--ink)}
fieldset{border:0;padding:0;margin:0;min-width:0}
legend{padding:0}
.step{border-top:1px solid var(--rule);padding:.6rem 0;margin:1rem 0 0}
.step>legend{font-size:1.05rem}
.looks-text{display:grid;align-items:end;grid-template-columns:repeat(auto-fill,minmax(9.5rem,1fr));gap:0 1rem}
.looks-text .field{margin:.5rem 0}
.looks-choice{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,26rem),1fr));gap:0 1.5rem}
.taps{display:flex;align-content:flex-start;flex-wrap:wrap;gap:.2rem .5rem;margin:.7rem 0}
.tap{font-weight:400;display:flex;gap:.4rem;align-items:center;min-height:2.75rem;padding:0 .7rem;border:1px solid var(--edge);border-radius:${CORNER}}
.tap:has(:checked){border-color:var(--accent);box-shadow:inset 0 0 0 1px var(--accent)}
.field{margin:1.2rem 0}
.field .hint{color:var(--soft);font-size:.875rem;margin:.1rem 0 .35rem}
.examples:not([hidden]){display:flex;flex-wrap:wrap;gap:.3rem .5rem;align-items:center}
.examples button{width:auto;font-weight:400;padding:.3rem .8rem}
.wrong{font-weight:600;margin:.3rem 0 0}
.wrong::before{content:"\\2192\\00a0"}
.row{display:flex;flex-wrap:wrap;gap:.8rem 1rem;align-items:end}
.row .field{margin:.4rem 0}
.row select,.row input:not([type=checkbox]){width:auto;min-width:11rem}
.said{border:1px solid var(--edge);border-left-width:5px;padding:.7rem 1.1rem;margin:1.2rem 0;max-width:50rem;background:var(--wash)}
.said p{margin:.2rem 0}
.tally{list-style:none;display:flex;flex-wrap:wrap;gap:.1rem 1.5rem;padding:0;margin:.8rem 0;max-width:none}
.tally a{display:inline-block;padding:.25rem 0}
table{border-collapse:collapse;width:100%;margin:1.2rem 0;font-size:.9375rem;line-height:1.5}
caption{text-align:left;color:var(--soft);font-size:.875rem;padding:.3rem 0}
th,td{text-align:left;vertical-align:top;padding:.7rem 1.1rem .7rem 0;border-bottom:1px solid var(--rule)}
th:last-child,td:last-child{padding-right:0}
thead th{font-size:.875rem;line-height:1.35;color:var(--soft);font-weight:600;vertical-align:bottom;border-bottom:2px solid var(--ink)}
tbody th{font-weight:400}
td small,th small,dd small{display:block;line-height:1.45;font-size:.8125rem}
tbody th>a,tbody th>b{font-weight:650;white-space:nowrap}
.nobr{white-space:nowrap}
dl.facts{display:grid;grid-template-columns:minmax(8rem,max-content) 1fr;gap:.25rem 1.4rem}
dl.facts dt{color:var(--soft)}
dl.facts dd{margin:0}
.caution{border-top:1px solid var(--rule);border-bottom:1px solid var(--rule);padding:.3rem 0 .8rem;margin:2.6rem 0 0;max-width:50rem}
.caution+.caution{border-top:0;margin-top:0}
.caution h2{font-size:1.1rem;margin:.8rem 0 .2rem}
.foot form{display:flex;flex-wrap:wrap;gap:0 1rem;align-items:center}
.foot{border-top:1px solid var(--rule);padding-top:1rem;padding-bottom:2rem;color:var(--soft);font-size:.875rem}
.narrow{max-width:30rem}
.hidden{position:absolute;clip-path:inset(50%);height:1px;width:1px;overflow:hidden;white-space:nowrap}
.plain{list-style:none;padding:0}
.acts{list-style:none;padding:0;margin:0;display:flex;flex-wrap:wrap;gap:0 1.2rem}
.acts a{display:inline-block;padding:.7rem 0}
input[type=file]{padding:.55rem .6rem;height:auto}
[hidden]{display:none}
.entry{border-top:1px solid var(--rule);padding:1.2rem 0}
.entry h2,.entry h3{margin:0 0 .2rem}
.entry .row+h3{margin-top:1.6rem}
.pages{display:flex;gap:1.5rem;align-items:center}
code{font-family:ui-monospace,"Liberation Mono",monospace;font-size:.92em;background:var(--wash);padding:.1em .35em;border-radius:${CORNER};overflow-wrap:anywhere}
summary h2,summary h3{display:inline;font-size:1.15rem}
.entry p.lead{margin:0}
.long{overflow-wrap:anywhere}
.letter{font:inherit;white-space:pre-wrap;overflow-wrap:anywhere;max-width:44rem;border-left:3px solid var(--rule);padding-left:1.1rem;margin:1rem 0}
.answers{display:flex;flex-wrap:wrap;align-items:end;gap:.2rem 1.6rem;margin-top:.6rem}
.book dd{margin-bottom:.5rem}
.pair{display:grid;align-items:end;grid-template-columns:repeat(auto-fill,minmax(14rem,1fr));gap:0 1.5rem}
.plot{margin:1.2rem 0;max-width:47.5rem;color:var(--accent)}
.plot svg.wide,.plot svg.slim{display:block;width:100%;height:auto}
.plot svg.slim{display:none}
.plot svg.day{display:block;width:100%;max-width:30rem;height:auto}
.row .plot,.row fieldset{flex:1 1 100%}
.plot text{fill:var(--soft);font:12px var(--text)}
.plot .rule{stroke:var(--rule);fill:none}
td ul{margin:0}
td .answers{margin:0}
:placeholder-shown{text-overflow:ellipsis}
.legend{list-style:none;display:flex;flex-wrap:wrap;gap:.2rem 1.5rem;padding:0;margin:.4rem 0;max-width:none;color:var(--ink);font-size:.9375rem}
.legend svg{color:var(--accent);vertical-align:-.15em;margin-right:.3rem}
.beside{display:flex;flex-wrap:wrap;gap:0 3rem;align-items:flex-start}
.beside section{flex:0 1 auto}
.beside .plot{flex:1 1 30rem}
.classes{flex:0 1 26rem;width:auto;min-width:min(100%,20rem)}
.classes th,.classes td{padding:.3rem .9rem .3rem 0}
.classes tfoot th,.classes tfoot td{font-weight:650;border-top:2px solid var(--ink);border-bottom:0}
.bar{display:block;margin-left:auto;width:6.5rem;height:.4rem;color:var(--accent)}
summary{cursor:pointer;padding:.4rem 0;color:var(--accent)}
@media screen and (max-width:64rem){
label.tick,summary{min-height:2.75rem;box-sizing:border-box}
summary{padding-top:.7rem}
nav a{padding:.65rem 0}
nav.within{flex:1 0 100%;border:0;border-top:1px solid var(--rule);padding:0}
.band,main,.foot{padding-left:1.1rem;padding-right:1.1rem}
h1{font-size:1.75rem;margin-top:1.5rem}
table.cards,table.cards tbody,table.cards th,table.cards td{display:block;width:auto}
table.cards thead{position:absolute;clip-path:inset(50%);height:1px;width:1px;overflow:hidden}
table.cards tr{display:grid;grid-template-columns:1fr 1fr;gap:.45rem 1.2rem;border-top:2px solid var(--ink);padding:.7rem 0 1.1rem}
table.cards th,table.cards td{border:0;padding:0;min-width:0;overflow-wrap:anywhere}
table.cards tbody th{grid-column:1/-1;font-size:1.1rem}
table.cards td:only-of-type,table.cards td:last-child:nth-child(even){grid-column:1/-1}
.nobr:not(a),table.cards tbody th>*{white-space:normal}
table.cards td:has(>div:empty){display:none}
table.cards td::before{content:attr(data-label);display:block;color:var(--soft);font-size:.8125rem;line-height:1.45}
}
@media screen and (min-width:40rem) and (max-width:64rem){
table.cards tr{grid-template-columns:1fr 1fr 1fr}
}
@media screen and (max-width:34rem){
.house{flex:1}
.out{order:1}
.around{order:2}
.row,.row .field,.row select,.row input:not([type=checkbox]){width:100%;min-width:0;max-width:none}
button,.button,.answers>form{width:100%}
button,.button{text-align:center}
.out button,button.quiet{width:auto}
dl.facts{grid-template-columns:minmax(6.5rem,32%) 1fr}
.plot svg.wide{display:none}
.plot svg.slim{display:block}
.classes{flex:1 1 100%;min-width:0;font-size:.875rem}
.classes th,.classes td{padding-right:.4rem}
.bar{width:3.5rem}
}
`
  .concat(PLAN_STYLE, COUNTER_STYLE, SETTINGS_STYLE, PAPER_STYLE)
  .replaceAll('\n', '');

/** Its own fingerprint is in the address, so that a browser may keep it and still sees a new one. */
export const STYLE_PATH = `/style/${createHash('sha256').update(STYLE).digest('hex').slice(0, 12)}.css`;

/** Two tubes under one crown, in a disc whose edge reads on a dark bar as the disc on a light one. */
export const ICON = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32"><circle cx="16" cy="16" r="15" fill="${LIGHT.accent}" stroke="${DARK.accent}" stroke-width="2"/><path d="M10 25V12h12v13" fill="none" stroke="#fff" stroke-width="4"/><path d="M16 10V5" fill="none" stroke="#fff" stroke-width="4"/></svg>`;
