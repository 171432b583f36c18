/** The looks of a page to look at, by day and by night, in the colours of the sheet. The same for every plan, as its script is. */
import { PALETTES, type Palette } from "../svg/palette.js";

/** Verdicts that are well, and the ground of buttons: on no drawing, and so not in its palette. */
const BESIDES = {
  light: { clear: "#2a6548", raise: "#ffffff" },
  dark: { clear: "#85cba4", raise: "#18242d" },
} as const;

const inks = (palette: Palette, { clear, raise }: { readonly clear: string; readonly raise: string }): string =>
  `--desk:${palette.desk};--paper:${palette.paper};--raise:${raise};--rule:${palette.rule};--strong:${palette.strongRule};` +
  `--ink:${palette.ink};--ink2:${palette.ink2};--ink3:${palette.ink3};--carmine:${palette.carmine};` +
  `--clear:${clear};--tight:${palette.tight};--fails:${palette.fails}`;

export const STYLE = `
:root{color-scheme:light;${inks(PALETTES.light, BESIDES.light)};
--name:"Iowan Old Style","Palatino Linotype",Palatino,"URW Palladio L","Liberation Serif",Georgia,serif;
--ui:"Avenir Next","Segoe UI","Helvetica Neue","Liberation Sans",Arial,system-ui,sans-serif}
:root[data-theme="dark"]{color-scheme:dark;${inks(PALETTES.dark, BESIDES.dark)}}
*{box-sizing:border-box}
body{margin:0;background:var(--desk);color:var(--ink);font:400 15px/22px var(--ui)}
header,main,footer{max-width:1280px;margin:0 auto;padding:16px 20px}
h1{margin:0;font:400 27px/34px var(--name);overflow-wrap:anywhere}
h2{margin:0;font:400 20px/28px var(--name)}
header p,footer p{margin:4px 0 0;color:var(--ink2)}
main{padding-top:0;padding-bottom:0}
section{margin:0 0 28px}
.bar{display:flex;flex-wrap:wrap;align-items:center;gap:8px 16px;margin-bottom:8px}
.bar h2{margin-right:auto}
.bar div{display:none;gap:4px}
.live .bar div{display:flex;flex-wrap:wrap}
button{min-height:44px;min-width:44px;padding:0 14px;border:1px solid var(--strong);border-radius:2px;background:var(--raise);color:var(--ink);font:inherit;cursor:pointer;max-width:100%;overflow-wrap:anywhere}
button[aria-pressed="true"]{background:var(--ink);border-color:var(--ink);color:var(--paper)}
button:focus-visible,.view:focus-visible,.wide:focus-visible{outline:2px solid var(--carmine);outline-offset:2px}
figure{margin:0 0 16px}
figure[hidden]{display:none}
figcaption{margin-bottom:6px;color:var(--ink2);overflow-wrap:anywhere}
.view{background:var(--paper);border:1px solid var(--strong)}
.view svg{display:block;width:100%;height:auto}
.live .view{height:min(74vh,900px);overflow:hidden;cursor:grab;touch-action:pan-y;-webkit-user-select:none;user-select:none}
.live .profile .view{height:min(54vh,520px)}
.live .near .view{touch-action:none}
.live .view svg{height:100%}
.hint{display:none;margin:6px 0 0;color:var(--ink3);font-size:13px;line-height:20px}
.live .hint{display:block}
.wide{overflow-x:auto}
table{width:100%;border-collapse:collapse;background:var(--paper);border:1px solid var(--strong)}
th,td{padding:6px 12px;text-align:left;vertical-align:top;border-top:1px solid var(--rule)}
th{font-weight:400}
thead th{color:var(--ink3);border-top:0}
tbody th[scope="rowgroup"]{padding-top:14px;font:400 17px/24px var(--name)}
td.figure,th.figure{text-align:right;white-space:nowrap}
td.verdict{white-space:nowrap}
.clear{color:var(--clear)}.tight{color:var(--tight)}.fails{color:var(--fails)}.none{color:var(--ink3)}
.note td{padding-top:0;border-top:0;color:var(--ink2);font-size:13px;line-height:20px;overflow-wrap:anywhere}
footer{padding-bottom:40px}
footer p{font-size:13px;line-height:20px}
@media (max-width:640px){header,main,footer{padding-left:12px;padding-right:12px}.live .view{height:52vh}.live .profile .view{height:34vh}
table{font-size:13px;line-height:20px}th,td{padding:5px 6px}.note td{padding-top:0}}
@media print{body{background:none}.live .bar div,.live .hint{display:none}figure[hidden]{display:block}.live .view{height:auto}}
`;

/** SHA-256 of the style, base64; asserted in the tests. */
export const STYLE_HASH = "1uaYSuZph0kVlUfEtoF0OneEfDySYDH1M4ThJWUKVLs=";
