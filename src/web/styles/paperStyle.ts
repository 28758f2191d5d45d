/** What stands on paper: a bench card on a sheet of A4, and the service book on sheets of it. */
export const PAPER_STYLE = `
.box{display:inline-block;width:.95em;height:.95em;border:1.5px solid currentColor;vertical-align:-.12em;margin-right:.35em;line-height:.8;text-align:center;font-weight:700}
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
.card .plain{list-style:none;padding:0}
.card .looks{display:grid;grid-template-columns:1fr 1fr;gap:.1rem 1.8rem}
.card table{margin:.3rem 0}
.halves{display:grid;grid-template-columns:1fr 1.1fr;gap:0 1.8rem}
.card .notes .line{min-height:1.7rem}
.was{margin-top:.4rem}
.signed{display:flex;flex-wrap:wrap;gap:.5rem 3rem;max-width:none}
.signed .line{flex:1;min-width:16rem}
@media(max-width:64rem){.halves,.card .looks{grid-template-columns:1fr}.card .line{flex-wrap:wrap}}
@page card{size:A4;margin:7mm 10mm}
.seen .photos li{width:min(18rem,100%)}
@media print{
.seen .photos{display:grid;grid-template-columns:1fr 1fr 1fr;gap:4mm}
.seen .photos li,.on-book .photos li{width:auto;break-inside:avoid}
.seen .photos img{max-height:58mm;object-fit:contain}
.on-book .photos{display:grid;grid-template-columns:repeat(5,1fr);gap:3mm}
.on-card{page:card}
.on-card .top,.on-book .top{display:none}
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
dl.facts dt,.sheet small,.lead,.soft{color:#000}
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
.by-hand button,.by-hand .hint,.by-hand .tap:has([value=""]){display:none}
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
