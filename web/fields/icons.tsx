/*
 * The few pictures that help the words: drawn for this page, one stroke, 16 units square.
 */
import type { JSX } from 'preact';

const paths = {
  undo: 'M6 3 2.500 6.500 6 10M3 6.500h6.500a4 4 0 0 1 0 8H6',
  redo: 'm10 3 3.500 3.500L10 10M13 6.500H6.500a4 4 0 0 0 0 8H10',
  search: 'M7 2.500a4.500 4.500 0 1 1 0 9 4.500 4.500 0 0 1 0-9zM10.500 10.500 14 14',
  close: 'm4 4 8 8M12 4l-8 8',
  plus: 'M8 3v10M3 8h10',
  bin: 'M3 4.500h10M6.500 4V2.500h3V4M4.500 4.500 5 13.500h6l.5-9M7 7v4M9 7v4',
  up: 'm4 10 4-4 4 4',
  down: 'm4 6 4 4 4-4',
  note: 'M8 2.500a5.500 5.500 0 1 1 0 11 5.500 5.500 0 0 1 0-11zM8 7.500v3.500M8 5v.2',
  warning: 'M8 2.500 14 13H2zM8 6.500v3M8 11.200v.2',
  severe: 'M5.500 2h5L14 5.500v5L10.500 14h-5L2 10.500v-5zM6 6l4 4M10 6l-4 4',
  tick: 'm3 8.500 3.500 3.500L13 4.500',
  saved: 'm3 8.500 3.500 3.500L13 4.500',
  history: 'M8 2.500A5.500 5.500 0 1 1 3 10M2.500 3v3.500H6M8 5v3.200l2.200 1.500',
  file: 'M4 2h5l3.500 3.500V14H4zM9 2v3.500h3.500',
  swap: 'M2.500 5.500h9M9 2.500l3 3-3 3M13.500 10.500h-9M7 7.500l-3 3 3 3',
  brush: 'm13.500 2.500-6 7M6 9.500c-2 0-1.500 2.500-3.500 3 1.500 1.500 5.500 1 5-1.500z',
  eraser: 'm5 13.500-2.500-3 7-7.500 4 4-6 6.500zM5 13.500h8M6 7l4 4',
  fill: 'm6.500 2.500 5.500 5.500-4.500 4.500L2.500 7.500 7 3M13 9.500c1 1.500 1 3 0 3s-1-1.500 0-3z',
  seam: 'M2.500 12.500C5 4 11 13 13.500 3.500M4.500 7l2 1.500M9.500 7.500l2 1.500',
  dart: 'M3 3.500 8 13l5-9.500',
  point: 'M8 5.500a2.500 2.500 0 1 1 0 5 2.500 2.500 0 0 1 0-5zM8 1v2.500M8 12.500V15M1 8h2.500M12.500 8H15',
  plane: 'M2 10.500 6.500 4H14l-4.500 6.500zM2 13.500h7.500',
  pick: 'm4 2.500 8.500 5-4 1-2 4z',
  tape: 'M2 5.500h12v5H2zM4.500 5.500v2M7 5.500v3M9.500 5.500v2M12 5.500v3',
  mirror: 'M8 2v12M6 5 2.500 11H6zM10 5l3.500 6H10z',
  name: 'M3 12.500 7 3l4 9.500M4.500 9h5M12 12.500h2',
  fitting: 'M4 4h8v8H4zM7 7h2v2H7z',
  stop: 'M4 4h8v8H4z',
  eye: 'M1.500 8S4 3.500 8 3.500 14.500 8 14.500 8 12 12.500 8 12.500 1.500 8 1.500 8zM8 6a2 2 0 1 1 0 4 2 2 0 0 1 0-4z',
  sun: 'M8 5a3 3 0 1 1 0 6 3 3 0 0 1 0-6zM8 1v1.500M8 13.500V15M1 8h1.500M13.500 8H15M3 3l1 1M12 12l1 1M3 13l1-1M12 4l1-1',
  moon: 'M13 9.500A5.500 5.500 0 1 1 6.500 3a4.500 4.500 0 0 0 6.500 6.500z',
  more: 'M3.500 8h.2M8 8h.2M12.500 8h.2',
} as const;

export type IconName = keyof typeof paths;

export function Icon({ name }: { readonly name: IconName }): JSX.Element {
  return (
    <svg class="icon" viewBox="0 0 16 16" aria-hidden="true" focusable="false">
      <path d={paths[name]} />
    </svg>
  );
}
