/*
 * Where parts lie on the paper for looking at (not for cutting): in rows, in their own order, so that a part stays where it is while
 * another changes a little. Paper: x right, y down, mm.
 */
export interface LaidItem {
  readonly id: string;
  readonly width: number;
  readonly height: number;
}

export interface LaidPlace {
  /** Upper left corner of the item's box. */
  readonly x: number;
  readonly y: number;
}

export interface PaperLayout {
  readonly places: ReadonlyMap<string, LaidPlace>;
  readonly width: number;
  readonly height: number;
}

/**
 * Rows, items centred in them; of all ways to break the rows the one that shows the parts largest.
 * @param pane room to show them in, pixels
 */
export function layOut(items: readonly LaidItem[], pane: { readonly width: number; readonly height: number }, gap = 34): PaperLayout {
  let best = inRows(items, Infinity, gap);
  const scaleOf = (layout: PaperLayout): number =>
    Math.min(pane.width / Math.max(1, layout.width), pane.height / Math.max(1, layout.height));
  // Rows can only break where an item ends: the widths worth trying are the lengths of runs of items.
  const widths = new Set<number>();
  items.forEach((_, from) => {
    let width = -gap;
    for (const item of items.slice(from, from + 40)) widths.add((width += item.width + gap));
  });
  for (const width of [...widths].sort((a, b) => b - a).slice(0, 400)) {
    const layout = inRows(items, width, gap);
    if (scaleOf(layout) > scaleOf(best) * 1.001) best = layout;
  }
  return best;
}

function inRows(items: readonly LaidItem[], most: number, gap: number): PaperLayout {
  const rows: LaidItem[][] = [];
  let used = Infinity;
  for (const item of items) {
    if (rows.length === 0 || used + item.width > most + 1e-6) {
      rows.push([]);
      used = 0;
    }
    rows.at(-1)?.push(item);
    used += item.width + gap;
  }
  const widthOf = (row: readonly LaidItem[]): number => row.reduce((sum, { width }) => sum + width, 0) + gap * (row.length - 1);
  const width = rows.reduce((widest, row) => Math.max(widest, widthOf(row)), 0);
  const places = new Map<string, LaidPlace>();
  let y = 0;
  for (const row of rows) {
    const height = row.reduce((highest, item) => Math.max(highest, item.height), 0);
    let x = (width - widthOf(row)) / 2;
    for (const item of row) {
      places.set(item.id, { x, y: y + (height - item.height) / 2 });
      x += item.width + gap;
    }
    y += height + gap;
  }
  return { places, width, height: Math.max(0, y - gap) };
}
