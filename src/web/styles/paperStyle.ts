import { INK_ON_WHITE, propertiesOf } from './colours.js';

/**
 * The one style of paper, and what is made to be printed: a bench card on a sheet of A4, the service book, labels. What
 * can be pressed or filled in is left out, and so is a heading that heads nothing else.
 */
export const PAPER_STYLE = `
.box{display:inline-block;width:.95em;height:.95em;border-bottom:2px solid var(--edge);vertical-align:-.12em;margin-right:.35em;line-height:.8;text-align:center;font-weight:700}
.boxed{display:inline-block;margin-right:.7em}
.line{display:flex;align-items:baseline;gap:.4rem}
.fill{flex:1;border-bottom:1px solid var(--edge);min-width:2.5rem}
.card{border:1px solid var(--edge);padding:1rem 1.3rem;margin:1.2rem 0;max-width:64rem}
.card header{display:flex;flex-wrap:wrap;align-items:baseline;gap:.1rem 1.6rem}
.card h2{font-size:2.2rem;margin:0}
.card h3{font-size:1rem;margin:.9rem 0 .2rem}
.card p,.card ul,.card dl{margin:.3rem 0;max-width:none}
.card header p:last-child{margin-left:auto}
.card .stop,.card .dark{border:3px solid currentColor;padding:.3rem .7rem;font-size:1.15rem}
.card .warn{border-top:1px solid var(--edge);border-bottom:1px solid var(--edge);padding:.3rem 0}
.card .looks{display:grid;grid-template-columns:1fr 1fr;gap:.1rem 1.8rem}
.card table{margin:.3rem 0}
.halves{display:grid;grid-template-columns:1fr 1.1fr;gap:0 1.8rem}
.card .notes .line{min-height:1.7rem}
.was{margin-top:.4rem}
.signed{display:flex;flex-wrap:wrap;gap:.5rem 3rem;max-width:none}
.signed .line{flex:1;min-width:16rem}
@media screen and (max-width:64rem){.halves,.card .looks{grid-template-columns:1fr}.card .line{flex-wrap:wrap}}
.seen .photos li{width:min(18rem,100%)}
@page{size:A4;margin:14mm}
@page card{size:A4;margin:7mm 10mm}
@media print{
:root{color-scheme:light;${propertiesOf(INK_ON_WHITE)}}
html{font-size:10pt}
main,.band{padding:0}
.top{margin-bottom:4mm}
.top nav,.out,.find,.skip,.screen,.foot,.tally,.tells,.steps,.acts,.act,.pick,button,.button,form:not(.by-hand,.kept,.line),form.row,details:not([open],.listed),details:has(>form):not(.listed){display:none}
:is(h2,h3):has(+form:not(.by-hand,.kept)),:is(h2,h3):has(+p+form:not(.by-hand,.kept)),:is(h2,h3)+p:has(+form:not(.by-hand,.kept)),.entry:has(>h2+form:last-child){display:none}
details.listed>summary{list-style:none;color:inherit;padding:0}
details.listed{border:0;padding:.6mm 0}
h1{font-size:18pt;margin:0 0 1mm}
h2{font-size:13pt;margin:6mm 0 2mm}
h3{font-size:11pt}
h1,h2,h3,caption,figcaption{break-after:avoid}
p,li{orphans:3;widows:3}
p,ul,ol,dl,.lead,.caution{max-width:none}
tr,.entry,.plot,.caution,dl.facts>*{break-inside:avoid}
tbody tr:nth-last-child(-n+2),table+p,table+.soft{break-before:avoid}
a{color:inherit;text-decoration:none}
.caution{margin-top:6mm;line-height:1.3}
.plot,.bar,.legend svg{color:#000}
.plot svg.day{max-width:90mm}
main table{font-size:9.5pt}
main table th,main table td{padding:1.6mm 5mm 1.6mm 0;border-bottom:1px solid #999}
main table thead th,.dense thead th{font-size:inherit;color:#000}
.dense{font-size:8pt;line-height:1.25}
.dense th,.dense td{padding:.7mm 2mm .7mm 0}
.dense td:nth-child(2){min-width:26mm}
.dense td:nth-child(3){min-width:21mm}
.dense td:nth-child(4){min-width:28mm}
.dense small{display:none}
.dense .stop small{display:block}
.nobr{white-space:nowrap}
.cards-print{break-before:page}
.box{border:1.5px solid;color:inherit}
.ways{display:block}
.kept input,.kept select{border:0;padding:0;min-height:0;max-width:none;appearance:none}
.kept .hint,.part-line:has(input[value=""]){display:none}
.seen .photos{display:grid;grid-template-columns:1fr 1fr 1fr;gap:4mm}
.seen .photos li,.on-book .photos li{width:auto;break-inside:avoid}
.seen .photos img{max-height:58mm;object-fit:contain}
.on-book .photos{display:grid;grid-template-columns:repeat(5,1fr);gap:3mm}
.on-card{page:card}
.on-card .top,.on-book .top,.on-labels .top{display:none}
.halves{grid-template-columns:1fr 1.5fr;gap:0 5mm}
.notes{flex:1 1 0;min-height:7mm;overflow:hidden;position:relative}
.notes>div{position:absolute;inset:0}
.card{display:flex;flex-direction:column;min-height:256mm;margin:0;padding:0;border:0;max-width:none;font-size:8.2pt;line-height:1.17;break-inside:avoid}
.card+.card{break-before:page}
.on-card .card{min-height:266mm}
.card h2{font-size:25pt;line-height:.9}
.card h3{font-size:9pt;margin:1mm 0 .3mm;border-bottom:1px solid #000}
.card p,.card ul,.card dl{margin:.5mm 0}
.card .warn{font-size:7pt;line-height:1.18;border-color:#000;padding:.8mm 0}
.card .stop,.card .dark{font-size:12pt;padding:.6mm 2mm;border-width:2px}
.card small{font-size:7pt;color:#000}
.card .sheet table.cards{font-size:8.4pt;margin:0;line-height:1.3}
.sheet table.cards thead th{color:#000;font-size:inherit;overflow-wrap:normal}
.sheet .nobr{white-space:nowrap}
.sheet table.cards tbody th>b{white-space:nowrap}
.card .sheet table.cards th,.card .sheet table.cards td{padding:.35mm 2mm .35mm 0}
.card dl.facts{grid-template-columns:fit-content(45%) 1fr;gap:0 3mm}
.card .halves{font-size:7.5pt;line-height:1.15}
.card .line{flex-wrap:nowrap}
.card .looks{grid-template-columns:1fr 1fr;gap:0 6mm}
.card .after{grid-template-columns:1fr 1fr 1fr;gap:0 4mm}
.card .looks .line{min-height:3.7mm}
.card .looks .fill{min-width:6mm}
.card .looks .line>b{white-space:nowrap}
.card .sheet table.cards td:last-child{white-space:nowrap}
.card .boxed{margin-right:2mm}
.card .notes .line{min-height:6.5mm;align-items:end}
.card .sign{min-height:7mm;align-items:end}
.fill{border-color:#000}
form.by-hand{display:block;font-size:9pt;line-height:1.3}
::-webkit-calendar-picker-indicator,.by-hand .hint,.by-hand .tap:has([value=""]){display:none}
.by-hand .tap{border:0;box-shadow:none;min-height:0;padding:0 3mm 0 0}
.by-hand .tap:has(:checked){box-shadow:none}
.by-hand .field,.by-hand .taps{margin:1mm 0}
.by-hand .looks-choice{grid-template-columns:1fr 1fr}
.by-hand .field>input{border:0;border-bottom:1px solid;min-height:6mm;padding:0}
.on-book .sheet{font-size:9.5pt}
.letterhead{margin:0 0 5mm}
.signed{margin-top:12mm;break-inside:avoid}
}
`;
