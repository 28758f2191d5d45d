/** What the planning pages add to the style: plots and sheets for A4. */
export const PLAN_STYLE = `
.board{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,22rem),1fr));gap:0 2.2rem;align-items:start}
.board section>h2{border-bottom:2px solid var(--ink);padding-bottom:.3rem;margin:1.6rem 0 0}
.board .entry:first-of-type{border-top:0}
.board .entry p{margin:.15rem 0}
.steps{gap:.5rem .6rem;margin:.7rem 0 .3rem}
.steps button,.steps .button{min-height:3.25rem;display:inline-flex;align-items:center;justify-content:center}
@media(max-width:34rem){.steps>form{width:100%}}
.used{display:grid;grid-template-columns:minmax(0,1fr) 5rem;gap:.4rem 1rem;align-items:center;max-width:26rem}
.comes{display:flex;flex-wrap:wrap;gap:.4rem 1.5rem;align-items:center;justify-content:space-between;max-width:50rem}
.photos{list-style:none;padding:0;display:flex;flex-wrap:wrap;gap:.6rem;max-width:none}
.photos li{width:8.5rem}
.photos img{display:block;width:100%;height:auto;border:1px solid var(--edge)}
.photos small{display:block}
.photo-box label.button{cursor:pointer;position:relative}
.photo-box label.button:focus-within{outline:3px solid var(--accent);outline-offset:2px}
.figure{text-align:right}
@media screen and (max-width:64rem){.cards td.figure,.cards tbody th.figure{text-align:left}}
.dense th,.dense td{padding:.35rem .9rem .35rem 0}
@media(min-width:64rem){.dense td:nth-child(2){min-width:9.5rem}}
.dense summary{padding:.25rem 0;font-size:.8125rem}
.folded{font-size:.875rem;padding:.15rem 0}
.folded small{display:inline}
@media(max-width:37.49rem){
.dense,.dense tbody,.dense th,.dense td{display:block;width:auto}
.dense thead{position:absolute;clip-path:inset(50%);height:1px;width:1px;overflow:hidden}
.dense tr{display:flex;flex-wrap:wrap;gap:0 .8rem;border-bottom:1px solid var(--rule);padding:.4rem 0}
.dense th,.dense td{border:0;padding:0}
.dense th small,.dense td>div>small{display:none}
.dense .figure{display:none}
}
@media print{
.dense{font-size:8pt;line-height:1.25}
.dense thead th{font-size:inherit;color:#000}
.dense th,.dense td{padding:.7mm 2mm .7mm 0}
.dense td:nth-child(2){min-width:26mm}
.dense td:nth-child(3){min-width:21mm}
.dense td:nth-child(4){min-width:28mm}
.dense .nobr{white-space:nowrap}
.steps{display:none}
.dense small{display:none}
.dense .stop small{display:block}
}
nav.within{order:3;flex:1 1 auto;font-size:.9375rem}
.within~.out{order:4}
@media(max-width:64rem){nav.within{flex-basis:100%}.within~.out{order:2}}
@media(max-width:34rem){nav.within{width:100%}.within~.out{order:1}}
.plot .range{fill:var(--accent);fill-opacity:.28;stroke:var(--accent);stroke-width:1}
.plot .mark{stroke:var(--accent);stroke-width:3;fill:none}
.plot .bound{stroke:var(--ink);stroke-width:1.5;stroke-dasharray:5 4;fill:none}
.plot figcaption{color:var(--ink);font-size:.9375rem}
.plot .grown{stroke:var(--accent);stroke-width:2;fill:none;stroke-linejoin:round}
.plot .middle{stroke:var(--ink);stroke-width:1.5;stroke-dasharray:2 3;fill:none}
.plot .flag{fill:var(--ink)}
.plot .dot{fill:var(--paper);stroke:var(--accent);stroke-width:1.5}
.plot .dot.dark{fill:var(--ink);stroke:var(--ink)}
.plot .seen{stroke:var(--ink);stroke-width:1;fill:none}
@page{size:A4;margin:14mm}
@media print{
nav.within,td:has(.acts){display:none!important}
h1{font-size:18pt;margin-top:0}
h2{font-size:13pt;margin:6mm 0 2mm;break-after:avoid}
main{padding:0}
main table.cards{display:table;width:100%;font-size:9.5pt}
main table.cards thead{display:table-header-group;position:static;clip-path:none;height:auto;width:auto}
main table.cards tbody{display:table-row-group}
main table.cards tr{display:table-row;border:0}
main table.cards th,main table.cards td,main table.cards td:has(>div:empty){display:table-cell;padding:1.6mm 3mm 1.6mm 0;border-bottom:1px solid #999}
main table.cards tbody th{font-size:inherit}
main table.cards td::before{content:none}
.screen{display:none}
.cards-print{break-before:page}
.band{padding-left:0}
.sheet th{overflow-wrap:normal}
}
`;
