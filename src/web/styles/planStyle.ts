/** What the planning pages add to the style: the board, long lists, plots. */
export const PLAN_STYLE = `
.board{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,22rem),1fr));gap:0 2.2rem;align-items:start}
.board section>h2{border-bottom:2px solid var(--ink);padding-bottom:.3rem;margin:1.6rem 0 0}
.board .entry:first-of-type{border-top:0}
.board .entry p{margin:.15rem 0}
.steps{gap:.5rem .6rem;margin:.7rem 0 .3rem}
.steps button,.steps .button{min-height:3.25rem;display:inline-flex;align-items:center;justify-content:center}
@media screen and (max-width:34rem){.steps>form{width:100%}}
.used{display:grid;grid-template-columns:minmax(0,1fr) 5rem;gap:.4rem 1rem;align-items:center;max-width:26rem}
.comes{display:flex;flex-wrap:wrap;gap:.4rem 1.5rem;align-items:center;justify-content:space-between;max-width:50rem}
.photos{list-style:none;padding:0;display:flex;flex-wrap:wrap;gap:.6rem;max-width:none}
.photos li{width:8.5rem}
.photos img{display:block;width:100%;height:auto;border:1px solid var(--edge)}
.photos small{display:block}
.photo-box label.button{cursor:pointer;position:relative}
.photo-box label.button:focus-within{outline:3px solid var(--accent);outline-offset:2px}
.figure{text-align:right}
@media screen and (min-width:64.01rem){:is(.cards,.dense) .figure:not(:last-child){padding-right:1.8rem}}
@media screen and (max-width:64rem){.cards td.figure,.cards tbody th.figure{text-align:left}}
.dense th,.dense td{padding:.35rem .9rem .35rem 0}
@media(min-width:64rem){.dense td:nth-child(2){min-width:9.5rem}}
.dense summary{padding:.25rem 0;font-size:.8125rem}
.folded{font-size:.875rem;padding:.15rem 0}
.folded small{display:inline}
@media screen and (max-width:37.49rem){
.dense,.dense tbody,.dense th,.dense td{display:block;width:auto}
.dense thead{position:absolute;clip-path:inset(50%);height:1px;width:1px;overflow:hidden}
.dense tr{display:flex;flex-wrap:wrap;gap:0 .8rem;border-bottom:1px solid var(--rule);padding:.4rem 0}
.dense th,.dense td{border:0;padding:0}
.dense th small,.dense td>div>small{display:none}
.dense .figure{display:none}
.dense td:has(details),.dense td:has(details)>div{display:contents}
.dense details{order:1;flex-basis:100%}
}
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
`;
