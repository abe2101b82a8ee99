/*
 * Pattern paper: squares in true size, stronger lines every ten, and a ruler along two edges.
 */
import type { JSX } from 'preact';
import { paneSize } from './paper-items.ts';
import type { PaperView } from './paper-view.ts';

interface GridProps {
  readonly view: PaperView;
  readonly step: number;
}

export function Grid({ view, step }: GridProps): JSX.Element {
  const { width, height } = paneSize.value;
  const strong = step === 50 || step === 500 ? step * 2 : step * 10;
  return (
    <g class="grid">
      <path class="fine" d={linesPath(view, step, width, height)} />
      <path class="strong" d={linesPath(view, strong, width, height)} />
      <rect class="ruler" width={width} height={18} />
      <rect class="ruler" width={18} height={height} />
      <RulerMarks view={view} step={strong} />
    </g>
  );
}

function multiples(from: number, to: number, step: number): number[] {
  const first = Math.ceil(from / step) * step;
  const count = Math.max(0, Math.min(400, Math.floor((to - first) / step) + 1));
  return Array.from({ length: count }, (_, i) => first + i * step);
}

function linesPath(view: PaperView, step: number, width: number, height: number): string {
  const xs = multiples(view.x, view.x + width / view.scale, step).map((mm) => `M${sharp((mm - view.x) * view.scale)} 0V${height}`);
  const ys = multiples(view.y, view.y + height / view.scale, step).map((mm) => `M0 ${sharp((mm - view.y) * view.scale)}H${width}`);
  return xs.join('') + ys.join('');
}

const sharp = (px: number): number => Math.round(px) + 0.5;

function RulerMarks({ view, step }: GridProps): JSX.Element {
  const { width, height } = paneSize.value;
  const label = (mm: number): string => `${Math.round(mm / 10)}`;
  return (
    <g class="ruler-marks">
      {multiples(view.x, view.x + width / view.scale, step).map((mm) => (
        <g key={`x${mm}`} transform={`translate(${sharp((mm - view.x) * view.scale)} 0)`}>
          <path d="M0 10V18" />
          <text x={3} y={11}>
            {label(mm)}
          </text>
        </g>
      ))}
      {multiples(view.y, view.y + height / view.scale, step).map((mm) => (
        <g key={`y${mm}`} transform={`translate(0 ${sharp((mm - view.y) * view.scale)})`}>
          <path d="M10 0H18" />
          <text x={-3} y={11} transform="rotate(-90)" text-anchor="end">
            {label(mm)}
          </text>
        </g>
      ))}
      <rect class="corner" width={18} height={18} />
      <text class="unit" x={3} y={12}>
        cm
      </text>
    </g>
  );
}
