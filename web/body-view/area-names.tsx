/*
 * Names of the areas beside their places on the body, so that colour is not the only thing that tells them apart.
 */
import { useEffect, useRef } from 'preact/hooks';
import { computed } from '@preact/signals';
import type { JSX } from 'preact';
import type { Vec3 } from '../../src/base/arrays.ts';
import { areaColour } from '../colours/area-colours.ts';
import { cut, job, station } from '../state.ts';
import type { BodyScene } from './scene.ts';

interface AreaName {
  readonly id: string;
  readonly name: string;
  readonly colour: string;
  readonly at: Vec3;
}

/** One name an area: at the middle of its largest part. */
const names = computed<readonly AreaName[]>(() => {
  if (station.value !== 'draw') return [];
  const areas = job.value?.marks.areas ?? [];
  return areas.flatMap((area, index) => {
    const patches = (cut.value?.patches ?? []).filter((patch) => patch.area === area.id && patch.side !== 'R');
    const largest = patches.sort((a, b) => b.mesh.faces.length - a.mesh.faces.length).at(0);
    if (!largest) return [];
    return [{ id: area.id, name: area.name || area.id, colour: areaColour(index), at: middle(largest.mesh.positions) }];
  });
});

/** The vertex nearest to the mean of all: it lies on the part even when the part is bent around. */
function middle(positions: ArrayLike<number>): Vec3 {
  const mean = [0, 0, 0];
  const total = positions.length / 3;
  for (let i = 0; i < positions.length; i++) mean[i % 3] += positions[i] / total;
  let best = 0;
  let least = Infinity;
  for (let i = 0; i < positions.length; i += 3) {
    const d = (positions[i] - mean[0]) ** 2 + (positions[i + 1] - mean[1]) ** 2 + (positions[i + 2] - mean[2]) ** 2;
    if (d < least) [best, least] = [i, d];
  }
  return [positions[best], positions[best + 1], positions[best + 2]];
}

export function AreaNames({ scene }: { readonly scene: BodyScene | undefined }): JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  const shown = names.value;
  useEffect(() => {
    if (!scene) return undefined;
    const place = (): void => {
      [...(box.current?.children ?? [])].forEach((child, i) => {
        if (!(child instanceof HTMLElement) || i >= shown.length) return;
        const seen = scene.project(shown[i].at);
        child.classList.toggle('away', seen.isHidden);
        child.style.transform = `translate(${Math.round(seen.x)}px, ${Math.round(seen.y)}px) translate(-50%, -50%)`;
      });
    };
    place();
    return scene.onDrawn(place);
  }, [scene, shown]);
  return (
    <div class="area-names" ref={box} aria-hidden="true">
      {shown.map(({ id, name, colour }) => (
        <span key={id}>
          <i style={{ background: colour }} />
          {name}
        </span>
      ))}
    </div>
  );
}
