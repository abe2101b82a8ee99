/*
 * The build sheet as one page that stands alone: no script, nothing fetched, pictures within. It prints well too.
 */
import { areaColor } from './area-colors.ts';
import type { BodyPictures } from './body-pictures.ts';
import { bevelNote, sandingNote, type BuildContent, type PartRow } from './build-content.ts';
import { decimal } from './decimal.ts';
import { hexColor, layerStyles } from './layers.ts';
import { partPicture } from './part-picture.ts';
import { base64, encodePng } from './png.ts';
import { cautionsDate, comesFirst, notProtective } from './safety.ts';
import { escapeXml, pathData } from './svg.ts';

const style = `body{font:16px/1.45 system-ui,sans-serif;color:#221d18;background:#faf7f2;margin:2rem auto;max-width:62rem;padding:0 1rem}
h1{margin:0}h2{margin:2rem 0 .5rem;border-bottom:2px solid #8a5a1e}table{border-collapse:collapse;width:100%}
th,td{text-align:left;padding:.3rem .6rem;border-bottom:1px solid #d8cdbd;vertical-align:top}td{font-variant-numeric:tabular-nums}
.parts{display:grid;grid-template-columns:repeat(auto-fill,minmax(19rem,1fr));gap:1rem}.part{background:#fff;border:1px solid #d8cdbd;border-radius:6px;padding:.8rem;break-inside:avoid}
.part h3{margin:0 0 .4rem}.part .row{display:flex;gap:.6rem;align-items:center}.part svg{flex:1;height:11rem}.part img{width:5.5rem}.part p{margin:.15rem 0;font-size:.9rem}
.body{display:flex;gap:1rem;flex-wrap:wrap}.body figure{margin:0;position:relative}.body img{display:block;width:21rem;background:#fff}
.body b{position:absolute;transform:translate(-50%,50%);background:#fffd;border-radius:50%;min-width:1.4em;text-align:center}
ol>li{margin:.6rem 0}.warning{border-left:4px solid #b03a00;padding-left:.8rem}@media print{body{background:#fff;margin:0}}`;

/** The page as text. */
export function buildSheetHtml(content: BuildContent, pictures: BodyPictures): string {
  const { title, date } = content;
  return [
    '<!doctype html>',
    `<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${escapeXml(title)}: build sheet</title><style>${style}</style></head><body>`,
    `<h1>${escapeXml(title)}</h1><p>Build sheet, ${escapeXml(date)}. ${content.parts.length} parts, ${content.seams.length} seams.</p>`,
    `<p class="warning">${escapeXml(notProtective)}</p>`,
    `<div class="body">${pictures.whole.map(figure).join('')}</div>`,
    '<h2>Gluing order</h2><ol>',
    ...content.steps.map(
      (step) =>
        `<li><strong>${escapeXml(step.title)}</strong> (${escapeXml(step.letters)})<br>${escapeXml(step.reason)}${step.sideNames.length > 0 ? `<br>${escapeXml(step.sideNames.join(', '))}` : ''}</li>`,
    ),
    `</ol><h2>Matching edges</h2><p>${escapeXml(bevelNote)}</p>`,
    table(
      ['Seam', 'Edges', 'Parts', 'Lengths, mm', 'Difference', 'Bevel each edge', 'Notches'],
      content.seams.map((row) => [row.id, row.sides, row.names, row.lengths, row.difference, row.bevel, row.notches]),
    ),
    ...(content.sanding.length > 0
      ? [
          `<h2>Edges to sand</h2><p>${escapeXml(sandingNote)}</p><ul>`,
          ...content.sanding.map((line) => `<li>${escapeXml(line)}</li>`),
          '</ul>',
        ]
      : []),
    '<h2>Parts</h2><div class="parts">',
    ...content.parts.map((row) => partCard(row, pictures)),
    '</div><h2>To have at hand</h2>',
    table(
      ['What', 'How much', ''],
      content.shopping.map(({ what, amount, note }) => [what, amount, note]),
    ),
    ...(content.warnings.length > 0
      ? ['<h2>Look at this first</h2><ul>', ...content.warnings.map((line) => `<li>${escapeXml(line)}</li>`), '</ul>']
      : []),
    `<h2>Cautions</h2><p>As of ${cautionsDate}. ${escapeXml(comesFirst)}</p>`,
    table(
      ['', '', 'Source'],
      content.cautions.map(({ title: name, text, source }) => [name, text, source]),
    ),
    '</body></html>',
    '',
  ].join('\n');
}

const figure = ({ title, picture, letters }: BodyPictures['whole'][number]): string =>
  `<figure><img alt="${escapeXml(title)}" src="data:image/png;base64,${base64(encodePng(picture))}">${letters
    .map(({ letter, at }) => `<b style="left:${decimal(100 * at[0], 1)}%;bottom:${decimal(100 * at[1], 1)}%">${escapeXml(letter)}</b>`)
    .join('')}</figure>`;

function table(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const cells = (tag: string, row: readonly string[]): string => row.map((cell) => `<${tag}>${escapeXml(cell)}</${tag}>`).join('');
  return `<table><thead><tr>${cells('th', heads)}</tr></thead><tbody>${rows.map((row) => `<tr>${cells('td', row)}</tr>`).join('')}</tbody></table>`;
}

/** Room around a part for names outside its edge, mm. */
const edgeMm = 12;

function partCard({ part, title, facts }: PartRow, pictures: BodyPictures): string {
  const bare = partPicture(part, Infinity).box;
  const letter = Math.max(5, Math.max(bare.maxX - bare.minX, bare.maxY - bare.minY) / 22);
  const { box, paths, edges } = partPicture(part, 0.8 * letter);
  const [width, height] = [box.maxX - box.minX + 2 * edgeMm, box.maxY - box.minY + 2 * edgeMm];
  const color = hexColor(pictures.colorOfPart.get(part.id) ?? areaColor(0));
  const shift = ([x, y]: readonly [number, number]): readonly [number, number] => [x - box.minX + edgeMm, height - edgeMm - (y - box.minY)];
  const lines = paths.map(({ layer, curve }) => {
    const fill = layer === 'CUT' ? ` fill="${color}" fill-opacity=".18"` : layer === 'CUT_INSIDE' ? ' fill="#fff"' : '';
    return `<path stroke="${hexColor(layerStyles[layer].rgb)}"${fill} d="${pathData(curve, 2, shift)}"/>`;
  });
  const names = edges.map(({ name, at }) => {
    const [x, y] = shift(at);
    return `<text x="${decimal(x, 1)}" y="${decimal(y + letter / 3, 1)}">${escapeXml(name)}</text>`;
  });
  const place = pictures.ofPart.get(part.id);
  const image =
    place === undefined ? '' : `<img alt="Where ${escapeXml(part.letter)} sits" src="data:image/png;base64,${base64(encodePng(place))}">`;
  const svg = `<svg viewBox="0 0 ${decimal(width, 1)} ${decimal(height, 1)}" role="img" aria-label="${escapeXml(title)}"><g fill="none" stroke-width="${decimal(Math.max(width, height) / 250, 2)}">${lines.join('')}</g><g font-size="${decimal(letter, 1)}" text-anchor="middle" font-family="sans-serif">${names.join('')}</g></svg>`;
  return `<section class="part"><h3>${escapeXml(title)}</h3><div class="row">${svg}${image}</div>${facts.map((fact) => `<p>${escapeXml(fact)}</p>`).join('')}</section>`;
}
