/** The counter: the field that finds anything, labels to print, and a button that does what cannot be taken back. */
export const COUNTER_STYLE = `
.find{display:flex;gap:.4rem;flex:1 1 15rem;max-width:26rem}
.find button{width:auto}
.note{white-space:pre-line}
.stop:not(.card .stop){display:inline-block;margin:.2rem 0;border:2px solid currentColor;padding:.15rem .6rem;max-width:44rem}
.beside-cautions .caution{margin:0;border:0;border-left:3px solid var(--ink);padding:0 0 0 1.1rem}
@media(min-width:64.01rem){.beside-cautions{display:grid;grid-template-columns:minmax(0,1fr) 22rem;gap:0 2.5rem;align-items:start}.beside-cautions>.caution{grid-column:2;grid-row:1;position:sticky;top:1rem}.beside-cautions>form{grid-column:1;grid-row:1}}
button.grave{color:inherit;border:3px double}
button.mails{border:2px dashed}
.tells{margin:.3rem 0;color:var(--soft);font-size:.9rem}
.pick{list-style:none;padding:0;display:grid;gap:.5rem;grid-template-columns:repeat(auto-fill,minmax(17rem,1fr))}
.pick .button,.pick button{display:block;width:100%;height:100%;text-align:start;font-weight:inherit}
.pick small{display:block}
.last{border-inline-start:3px solid;padding-inline-start:.8rem}
.labels{display:flex;flex-wrap:wrap;gap:4mm}
.label{border:1px solid;padding:0 3mm;width:70mm;break-inside:avoid}
.label .tag{font-size:2rem;margin:0}
@media screen and (max-width:34rem){.find{order:3;flex-basis:100%;max-width:none}}
`;
