/*
 * A bar between panes: dragged, or moved by the arrow keys.
 */
import type { JSX } from 'preact';
import { isSwapped, panelPx, paneShare } from '../state.ts';

interface SplitterProps {
  readonly label: string;
  readonly kind: 'panes' | 'panel';
}

const panelRange = { min: 320, max: 620 } as const;
const shareRange = { min: 0.2, max: 0.8 } as const;

const clampPanel = (px: number): number => Math.round(Math.min(panelRange.max, Math.max(panelRange.min, px)));
const clampShare = (share: number): number => Math.min(shareRange.max, Math.max(shareRange.min, share));

export function Splitter({ label, kind }: SplitterProps): JSX.Element {
  const isPanel = kind === 'panel';
  const set = (clientX: number): void => {
    if (isPanel) panelPx.value = clampPanel(innerWidth - clientX);
    else {
      const share = clientX / (innerWidth - panelPx.value);
      paneShare.value = clampShare(isSwapped.value ? 1 - share : share);
    }
  };
  const step = (by: number): void => {
    if (isPanel) panelPx.value = clampPanel(panelPx.value - 16 * by);
    else paneShare.value = clampShare(paneShare.value + (isSwapped.value ? -0.02 : 0.02) * by);
  };
  return (
    <div
      class={`splitter at-${kind}`}
      role="separator"
      aria-orientation="vertical"
      aria-label={label}
      aria-valuemin={isPanel ? panelRange.min : 100 * shareRange.min}
      aria-valuemax={isPanel ? panelRange.max : 100 * shareRange.max}
      aria-valuenow={isPanel ? panelPx.value : Math.round(100 * paneShare.value)}
      tabIndex={0}
      onPointerDown={(event) => event.currentTarget.setPointerCapture(event.pointerId)}
      onPointerMove={(event) => {
        if (event.currentTarget.hasPointerCapture(event.pointerId)) set(event.clientX);
      }}
      onDblClick={() => {
        if (isPanel) panelPx.value = 392;
        else paneShare.value = 0.48;
      }}
      onKeyDown={(event) => {
        if (event.key !== 'ArrowLeft' && event.key !== 'ArrowRight') return;
        step(event.key === 'ArrowLeft' ? -1 : 1);
        event.preventDefault();
      }}
    />
  );
}
