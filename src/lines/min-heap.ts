/*
 * A binary heap of (key, item) pairs, smallest key first; equal keys leave in the order of their items, so that a search is the same everywhere.
 */
export interface MinHeap {
  readonly size: () => number;
  readonly push: (key: number, item: number) => void;
  /** Removes the pair with the smallest key; its key is in `lastKey` afterwards. −1 when empty. */
  readonly pop: () => number;
  readonly lastKey: () => number;
}

/** An empty heap. Push and pop cost O(log n). */
export function createMinHeap(): MinHeap {
  const keys: number[] = [];
  const items: number[] = [];
  let last = 0;
  const isBefore = (i: number, j: number): boolean => keys[i] < keys[j] || (keys[i] === keys[j] && items[i] < items[j]);
  const swap = (i: number, j: number): void => {
    [keys[i], keys[j]] = [keys[j], keys[i]];
    [items[i], items[j]] = [items[j], items[i]];
  };
  return {
    size: () => keys.length,
    lastKey: () => last,
    push: (key, item) => {
      let i = keys.push(key) - 1;
      items.push(item);
      while (i > 0) {
        const parent = (i - 1) >> 1;
        if (!isBefore(i, parent)) break;
        swap(i, parent);
        i = parent;
      }
    },
    pop: () => {
      if (keys.length === 0) return -1;
      const top = items[0];
      last = keys[0];
      const [key, item] = [keys.pop() ?? 0, items.pop() ?? 0];
      if (keys.length === 0) return top;
      keys[0] = key;
      items[0] = item;
      let i = 0;
      for (;;) {
        let least = 2 * i + 1;
        if (least >= keys.length) break;
        if (least + 1 < keys.length && isBefore(least + 1, least)) least++;
        if (!isBefore(least, i)) break;
        swap(i, least);
        i = least;
      }
      return top;
    },
  };
}
