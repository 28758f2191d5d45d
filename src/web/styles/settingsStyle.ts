/** The settings: ways to each page with what stands there now, lines with a button each, lists of parts. */
export const SETTINGS_STYLE = `
.ways,.lines{list-style:none;padding:0;margin:.6rem 0;max-width:50rem}
.ways{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,22rem),1fr));gap:0 1.6rem;max-width:none}
.ways li{border-top:1px solid var(--rule);padding:.2rem 0 .6rem}
.ways a{display:block;padding:.5rem 0 .1rem;min-height:2.75rem;font-weight:650}
.ways small{display:block}
.lines .line{display:flex;flex-wrap:wrap;align-items:center;justify-content:space-between;gap:.2rem 1rem;border-top:1px solid var(--rule);padding:.3rem 0}
.lines .line button{width:auto}
.part-line{display:grid;grid-template-columns:minmax(10rem,26rem) 7rem 8rem;gap:.4rem .8rem;margin:.5rem 0;align-items:start}
@media screen and (max-width:34rem){.part-line.heads{display:flex;gap:.35em}.heads b+b::before{content:' · '}.part-line{grid-template-columns:1fr 1fr}.part-line>div:first-of-type{grid-column:1/-1}}
`;
