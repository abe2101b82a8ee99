/*
 * The contract of a tool: pointer in, preview out, one command on release. The view gives it places; the tool keeps its own preview and
 * puts it away on Escape. One record a file, one line in `index.ts`.
 */
import type { Vec3 } from '../../src/base/arrays.ts';
import type { BodyHit } from '../body-view/body-index.ts';
import type { BodyScene } from '../body-view/scene.ts';
import type { IconName } from '../fields/icons.tsx';
import type { StationName } from '../stations.ts';
import type { ToolName } from '../state.ts';

/** Where the hand points. */
export interface Pointing {
  /** CSS pixels from the view's upper left corner. */
  readonly x: number;
  readonly y: number;
  /** Place on the skin under it, if there is one. */
  readonly hit?: BodyHit;
  readonly isShift: boolean;
  readonly isAlt: boolean;
}

/** What a tool may show and ask of the view that it works in. */
export interface ToolView {
  readonly scene: BodyScene;
  /** Words beside a place or at the pointer; without words the note goes away. */
  readonly note: (words: string | undefined, at?: Vec3) => void;
}

export interface ToolHand {
  /** The hand moves without pressing. */
  readonly over?: (at: Pointing) => void;
  /** The hand left the view. */
  readonly out?: () => void;
  /** Pressed: true if the tool takes the drag; otherwise the drag turns the body, and a press without a drag is a click. */
  readonly down?: (at: Pointing) => boolean;
  readonly move?: (at: Pointing) => void;
  readonly up?: (at: Pointing) => void;
  readonly click?: (at: Pointing) => void;
  readonly finish?: () => void;
  /** Takes the last point back. */
  readonly back?: () => void;
  /** Delete: what the hand is on. */
  readonly remove?: () => void;
  /** Turns of the wheel, +1 away. True if the tool used them. */
  readonly wheel?: (turns: number, at: Pointing | undefined) => boolean;
  /** Escape: nothing has happened. True if there was something to put away. */
  readonly cancel: () => boolean;
}

export interface Tool {
  readonly name: ToolName;
  readonly title: string;
  readonly icon: IconName;
  readonly key: string;
  /** One line at the foot of the view. */
  readonly hint: string;
  /** The station that it belongs to; picking the tool goes there. Absent: any. */
  readonly station?: StationName;
  readonly take: (view: ToolView) => ToolHand;
}

/** A stored point: hundredths of a millimetre are enough for any tape. */
export const rounded = (p: Vec3): Vec3 => [Math.round(100 * p[0]) / 100, Math.round(100 * p[1]) / 100, Math.round(100 * p[2]) / 100];
