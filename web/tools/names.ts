/*
 * Ids that a maker can read: a word and the first free number.
 */

/** `word-1`, `word-2` … the first that is not taken. */
export function freeId(word: string, taken: readonly { readonly id: string }[]): string {
  const slug =
    word
      .normalize('NFKD')
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-+|-+$/g, '')
      .slice(0, 40) || 'mark';
  const ids = new Set(taken.map(({ id }) => id));
  for (let n = 1; ; n++) {
    const id = `${slug}-${n}`;
    if (!ids.has(id)) return id;
  }
}

/** `Area 1`, `Area 2` … the first name that no area has. */
export function freeAreaName(taken: readonly { readonly name: string }[]): string {
  const names = new Set(taken.map(({ name }) => name));
  for (let n = 1; ; n++) if (!names.has(`Area ${n}`)) return `Area ${n}`;
}
