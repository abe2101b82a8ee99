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
 * Rows of about the given proportion; items stand centred in their row.
 * @param aspect width over height of the pane
 */
export function layOut(items: readonly LaidItem[], aspect: number, gap = 34): PaperLayout {
  const area = items.reduce((sum, { width, height }) => sum + (width + gap) * (height + gap), 0);
  const widest = items.reduce((most, { width }) => Math.max(most, width), 0);
  const wanted = Math.max(widest, Math.sqrt(area * 1.15 * Math.max(0.3, aspect)) - gap);
  const rows: LaidItem[][] = [];
  let used = Infinity;
  for (const item of items) {
    if (used + item.width > wanted) {
      rows.push([]);
      used = 0;
    }
    rows.at(-1)?.push(item);
    used += item.width + gap;
  }
  const widthOf = (row: readonly LaidItem[]): number => row.reduce((sum, { width }) => sum + width, 0) + gap * (row.length - 1);
  const width = rows.reduce((most, row) => Math.max(most, widthOf(row)), 0);
  const places = new Map<string, LaidPlace>();
  let y = 0;
  for (const row of rows) {
    const height = row.reduce((most, item) => Math.max(most, item.height), 0);
    let x = (width - widthOf(row)) / 2;
    for (const item of row) {
      places.set(item.id, { x, y: y + (height - item.height) / 2 });
      x += item.width + gap;
    }
    y += height + gap;
  }
  return { places, width, height: Math.max(0, y - gap) };
}
