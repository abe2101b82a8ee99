/*
 * Lines over the body with a width in pixels: one object a line, replaced as a whole. A line that lies behind the body shows faintly when
 * it is the one being worked on.
 */
import { Color, Group, SRGBColorSpace } from 'three';
import { LineMaterial } from 'three/addons/lines/LineMaterial.js';
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js';
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js';

export interface LineShow {
  /** Pairs of points: x0 y0 z0 x1 y1 z1 … */
  readonly segments: Float32Array;
  readonly colour: string;
  readonly widthPx: number;
  readonly dash?: readonly [number, number];
  /** Also drawn, faintly, where the body hides it. */
  readonly isFollowed?: boolean;
}

export interface LineLayer {
  readonly group: Group;
  readonly set: (lines: readonly LineShow[]) => void;
}

export function createLineLayer(order: number): LineLayer {
  const group = new Group();
  const materials = new Map<string, LineMaterial>();

  function materialOf(line: LineShow, isBehind: boolean): LineMaterial {
    const key = `${line.colour} ${line.widthPx} ${line.dash?.join() ?? ''} ${isBehind}`;
    const known = materials.get(key);
    if (known) return known;
    const made = new LineMaterial({
      color: new Color().setStyle(line.colour, SRGBColorSpace).getHex(),
      linewidth: line.widthPx,
      dashed: line.dash !== undefined,
      dashSize: line.dash?.[0] ?? 1,
      gapSize: line.dash?.[1] ?? 0,
      transparent: isBehind,
      opacity: isBehind ? 0.3 : 1,
      depthTest: !isBehind,
      depthWrite: false,
      polygonOffset: true,
      polygonOffsetFactor: -4,
      polygonOffsetUnits: -12,
    });
    materials.set(key, made);
    return made;
  }

  return {
    group,
    set: (lines) => {
      for (const child of [...group.children]) if (child instanceof LineSegments2) child.geometry.dispose();
      group.clear();
      for (const line of lines) {
        if (line.segments.length === 0) continue;
        const geometry = new LineSegmentsGeometry();
        geometry.setPositions(line.segments);
        for (const isBehind of line.isFollowed === true ? [true, false] : [false]) {
          const object = new LineSegments2(geometry, materialOf(line, isBehind));
          if (line.dash) object.computeLineDistances();
          object.renderOrder = order + (isBehind ? 0 : 1);
          object.frustumCulled = false;
          group.add(object);
        }
      }
    },
  };
}
