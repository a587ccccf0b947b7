/** What a figure consists of on the page. */
import { VIEWS } from "./orbit";

/** Where nothing can be drawn. */
export const NO_DRAWING = `<p class="figure-none">This browser cannot draw the figure: 3D graphics (WebGL) are off or missing. Numbers and curves still work.</p>`;

const LAYERS = [
  ["skin", "under a thin skin"],
  ["muscles", "all muscles"],
  ["deep", "deep muscles"],
  ["bones", "bones"],
];

const KEY = `<p class="figure-key small quiet" hidden><svg viewBox="0 0 22 10" width="22" aria-hidden="true"><path d="M1 5h14" class="of-load"/><path d="M14 1l7 4-7 4z" class="of-load"/></svg> load <svg viewBox="0 0 22 10" width="22" aria-hidden="true"><path d="M1 5h20" class="of-path"/><circle cx="11" cy="5" r="4"/></svg> its path, the dot where the body is weakest</p>`;

/** The figure's view, legend, views by name, muscles to point at, and transport, which a still figure lacks. */
export function markupOf(label: string, still: boolean): string {
  return `
    <div class="figure-view" role="img" tabindex="0" aria-label="${label}. Arrow keys turn it, plus and minus zoom."></div>
    <div class="figure-transport" ${still ? "hidden" : ""}>
      <button type="button" class="icon-button" data-play aria-label="Play"><svg viewBox="0 0 20 20" width="18" aria-hidden="true"><path d="M5 3l12 7-12 7z" fill="currentColor"/></svg></button>
      <input type="range" min="0" max="100" step="0.5" value="0" aria-label="Position in the lifting phase">
      <output class="num">0%</output>
    </div>
    <div class="figure-strip"><div class="figure-legend"></div>${KEY}
    <div class="figure-views choices" role="group" aria-label="View">${Object.keys(VIEWS)
      .map((v) => `<button type="button" class="small-button" data-view="${v}">${v}</button>`)
      .join("")}</div></div>
    <div class="figure-pointing" hidden><select aria-label="Point at a muscle"></select><output></output></div>
    <div class="figure-layers" hidden><label>Show <select data-layers>${LAYERS.map(([value, name]) => `<option value="${value}"${value === "muscles" ? " selected" : ""}>${name}</option>`).join("")}</select></label><label class="figure-fade" hidden>Skin <input type="range" data-fade min="0" max="100" step="5" value="75" aria-label="How opaque the skin is, in per cent"></label><label class="tick"><input type="checkbox" data-alone> only the muscle pointed at</label></div>`;
}
