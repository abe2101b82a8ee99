/*
 * Fittings, and the names that parts carry.
 */
import type { JSX } from 'preact';
import type { Vec3 } from '../../src/base/arrays.ts';
import type { Patch } from '../../src/patches/patch.ts';
import { act } from '../desk.ts';
import { Card, SelectField, TextField } from '../fields/fields.tsx';
import { Icon } from '../fields/icons.tsx';
import { cut, job } from '../state.ts';
import { takeTool } from '../take-tool.ts';
import { rounded } from '../tools/tool.ts';

const fittings = ['strap', 'snap', 'magnet', 'buckle'] as const;

export function FittingsCard(): JSX.Element {
  const points = job.value?.marks.points ?? [];
  return (
    <Card
      title="Fittings"
      action={
        <button type="button" onClick={() => takeTool('fitting')}>
          <Icon name="plus" /> Place
        </button>
      }
    >
      {points.length === 0 && <p>Straps, snaps, magnets and buckles: placed on the body, marked on the parts.</p>}
      <ul class="rows">
        {points.map((point) => (
          <li key={point.id}>
            <div class="row">
              <span class="wide">{point.id}</span>
              <SelectField
                label={`Kind of ${point.id}`}
                isLabelHidden
                value={point.kind}
                choices={fittings.map((value) => ({ value, title: value }))}
                onChange={(kind) => act({ kind: 'change-fitting', args: { id: point.id, change: { kind } } })}
              />
              <button
                type="button"
                class="quiet"
                aria-label={`Remove ${point.id}`}
                onClick={() => act({ kind: 'remove-fitting', args: { id: point.id } })}
              >
                <Icon name="bin" />
              </button>
            </div>
          </li>
        ))}
      </ul>
    </Card>
  );
}

/** A name is pinned to a place on the body, so that it stays with the part that lies there. */
export function NamesCard(): JSX.Element | null {
  const patches = (cut.value?.patches ?? []).filter(({ side, pair }) => side !== 'R' || pair === undefined);
  if (patches.length === 0) return null;
  return (
    <Card title="Names of the parts">
      <ul class="rows">
        {patches.map((patch) => (
          <li key={patch.id}>
            <TextField label={patch.id} value={patch.name} onChange={(name) => namePart(patch, name)} />
          </li>
        ))}
      </ul>
    </Card>
  );
}

function namePart(patch: Patch, name: string): void {
  const names = job.value?.marks.names ?? [];
  const at = names.findIndex((known) => known.name === patch.name);
  const place = at === -1 ? middleOf(patch) : names[at].at;
  act({ kind: 'name-part', args: { at: place, name, ...(at === -1 ? {} : { index: at }) } });
}

/** A vertex near the middle of a part. */
function middleOf({ mesh }: Patch): Vec3 {
  const p = mesh.positions;
  const mean = [0, 0, 0];
  for (let i = 0; i < p.length; i++) mean[i % 3] += (3 * p[i]) / p.length;
  let best = 0;
  let least = Infinity;
  for (let i = 0; i < p.length; i += 3) {
    const d = (p[i] - mean[0]) ** 2 + (p[i + 1] - mean[1]) ** 2 + (p[i + 2] - mean[2]) ** 2;
    if (d < least) [best, least] = [i, d];
  }
  return rounded([p[best], p[best + 1], p[best + 2]]);
}
