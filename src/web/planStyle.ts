/** What the planning pages add to the style: plots, sheets for A4, and bench cards of half a sheet. */
export const PLAN_STYLE = `
nav.within ul{border-bottom:1px solid var(--rule);margin:.4rem 0 0}
.plot .range{fill:var(--accent);fill-opacity:.28}
.plot .mark{stroke:var(--accent);stroke-width:3;fill:none}
.plot .bound{stroke:var(--ink);stroke-width:1.5;stroke-dasharray:5 4;fill:none}
.plot .seen{stroke:var(--ink);stroke-width:1;fill:none}
.box{display:inline-block;width:.95em;height:.95em;border:1.5px solid currentColor;vertical-align:-.12em;margin-right:.35em}
.card{border:1px solid var(--edge);padding:1rem 1.3rem;margin:1.2rem 0;max-width:52rem}
.card h3{font-size:1.25rem;margin:0}
.card p,.card dl{margin:.35rem 0;max-width:none}
.card .line{display:flex;align-items:baseline;gap:.6rem;min-height:1.7rem}
.card .fill{flex:1;border-bottom:1px solid var(--edge)}
.card .looks{columns:2;column-gap:1.6rem;list-style:none;padding:0;margin:.3rem 0;max-width:none}
.card .looks li{break-inside:avoid}
@media(max-width:34rem){.card .looks{columns:1}}
@page{size:A4;margin:14mm}
@media print{
nav.within{display:none}
h1{font-size:18pt;margin-top:0}
h2{font-size:13pt;margin:6mm 0 2mm;break-after:avoid}
main{padding:0}
.sheet table.cards{display:table;width:100%;font-size:9.5pt}
.sheet table.cards thead{display:table-header-group;position:static;clip-path:none;height:auto;width:auto}
.sheet table.cards tbody{display:table-row-group}
.sheet table.cards tr{display:table-row;border:0}
.sheet table.cards th,.sheet table.cards td{display:table-cell;padding:1.6mm 3mm 1.6mm 0;border-bottom:1px solid #999}
.sheet table.cards tbody th{font-size:inherit}
.sheet table.cards td::before{content:none}
.screen{display:none}
.cards-print{break-before:page}
.card{min-height:128mm;margin:0 0 6mm;padding:5mm 6mm;font-size:9.5pt;break-inside:avoid;border-color:#000}
.band{padding-left:0}
.sheet th{overflow-wrap:normal}
}
`;
