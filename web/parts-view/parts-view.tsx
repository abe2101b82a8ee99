/*
 * The pane with the pattern paper: parts as they lie flat, as they are drafted, or on their sheets, in true size to each other.
 */
import { useEffect, useRef } from 'preact/hooks';
import { useSignalEffect } from '@preact/signals';
import type { JSX } from 'preact';
import { hoverSeam, hoverSpot, isBothSides, openJob, selection, stages, station } from '../state.ts';
import { DraftOnPaper } from './draft-on-paper.tsx';
import { FlatOnPaper } from './flat-on-paper.tsx';
import { Grid } from './grid.tsx';
import { bindPaperHand } from './paper-hand.ts';
import { draftItems, flatItems, hasLegend, paneSize, paperKind, paperLayout, sheetItems } from './paper-items.ts';
import { fitPaper, gridStep, paperView } from './paper-view.ts';
import { SheetOnPaper } from './sheet-on-paper.tsx';
import { StrainLegend } from './strain-legend.tsx';

export function PartsView(): JSX.Element {
  const frame = useRef<HTMLElement>(null);
  const picture = useRef<SVGSVGElement>(null);
  const lastFit = useRef('');

  useEffect(() => {
    const pane = frame.current;
    const svg = picture.current;
    if (!pane || !svg) return undefined;
    const measure = (): void => {
      paneSize.value = { width: pane.clientWidth, height: pane.clientHeight };
    };
    const watch = new ResizeObserver(measure);
    watch.observe(pane);
    measure();
    const stop = bindPaperHand(svg);
    return () => {
      watch.disconnect();
      stop();
    };
  }, []);

  // The whole paper comes into view when other things lie on it; small changes leave the view alone.
  useSignalEffect(() => {
    const { width, height } = paneSize.value;
    const layout = paperLayout.value;
    const what = `${paperKind.value} ${hasLegend.value} ${[...layout.places.keys()].join(' ')} ${width} ${height}`;
    if (what === lastFit.current || layout.width === 0) return;
    lastFit.current = what;
    paperView.value = fitPaper(layout, { width, height }, hasLegend.value);
  });

  const view = paperView.value;
  const step = gridStep(view.scale);
  return (
    <section class={`pane paper-pane kind-${paperKind.value}`} aria-label="Parts on pattern paper" ref={frame}>
      <svg
        ref={picture}
        role="application"
        aria-label={paperWords()}
        tabIndex={0}
        width={paneSize.value.width}
        height={paneSize.value.height}
      >
        <Grid view={view} step={step} />
        <g transform={`scale(${view.scale}) translate(${-view.x} ${-view.y})`}>
          <OnPaper />
        </g>
      </svg>
      <div class="paper-bar" role="toolbar" aria-label="Paper">
        <span class="slip still">1 square = {step}&#8239;mm</span>
        {paperKind.value !== 'sheets' && (
          <button type="button" aria-pressed={isBothSides.value} onClick={() => (isBothSides.value = !isBothSides.value)}>
            Both sides
          </button>
        )}
        <button
          type="button"
          title="The whole paper (0)"
          onClick={() => (paperView.value = fitPaper(paperLayout.value, paneSize.value, hasLegend.value))}
        >
          Whole
        </button>
      </div>
      <EmptyPaper />
      <SeamWords />
      {hasLegend.value && <StrainLegend />}
    </section>
  );
}

function paperWords(): string {
  const count = { flats: flatItems.value.length, drafts: draftItems.value.length, sheets: sheetItems.value.length }[paperKind.value];
  const kind = { flats: 'flat parts', drafts: 'drafted parts', sheets: 'sheets' }[paperKind.value];
  return `Pattern paper with ${count} ${kind}. Arrow keys move it, plus and minus change its size, 0 shows the whole; the tables in the panel say the same in numbers.`;
}

function OnPaper(): JSX.Element {
  const { places } = paperLayout.value;
  const at = (id: string): { readonly x: number; readonly y: number } => places.get(id) ?? { x: 0, y: 0 };
  switch (paperKind.value) {
    case 'flats':
      return (
        <>
          {flatItems.value.map((item) => (
            <FlatOnPaper key={item.patch.id} item={item} {...at(item.patch.id)} />
          ))}
        </>
      );
    case 'drafts':
      return (
        <>
          {draftItems.value.map((item) => (
            <DraftOnPaper key={item.part.id} item={item} {...at(item.part.id)} />
          ))}
        </>
      );
    case 'sheets':
      return (
        <>
          {sheetItems.value.map((item) => (
            <SheetOnPaper key={item.sheet.id} item={item} {...at(item.sheet.id)} />
          ))}
        </>
      );
    default:
      return paperKind.value satisfies never;
  }
}

function EmptyPaper(): JSX.Element | null {
  if (paperLayout.value.places.size > 0) return null;
  const { 'lay-flat': laid, draw } = stages.value;
  if (!openJob.value)
    return (
      <p class="empty-pane">
        Parts will lie here, in true size.
        <br />
        Drop a scan anywhere to begin, or open the sample job from the Job menu.
      </p>
    );
  if (draw.status === 'working' || laid.status === 'working') return <p class="empty-pane">Working out the parts …</p>;
  if (draw.status === 'failed' || laid.status === 'failed') return <p class="empty-pane">{(draw.account ?? laid.account)?.what}</p>;
  return (
    <p class="empty-pane">
      No parts yet. Paint an area on the body with the brush (B), or fill inside lines (F).
      {station.value !== 'draw' && (
        <>
          <br />
          <button type="button" class="act" onClick={() => (station.value = 'draw')}>
            Go and draw
          </button>
        </>
      )}
    </p>
  );
}

/** The hovered seam in words: both edges with their lengths. */
function SeamWords(): JSX.Element | null {
  const id = hoverSeam.value ?? (selection.value?.kind === 'seam' ? selection.value.id : undefined);
  const seam = useSeam(id);
  if (!seam) return null;
  return (
    <p class="slip seam-words" role="status">
      {seam}
    </p>
  );
}

function useSeam(id: string | undefined): string | undefined {
  if (id === undefined) return undefined;
  const drawn = stages.value.draft.value?.seams.find((seam) => seam.id === id);
  if (drawn) {
    const [a, b] = drawn.lengthsMm;
    return `${drawn.sides[0]} ${a.toFixed(1)}\u202fmm meets ${drawn.sides[1]} ${b.toFixed(1)}\u202fmm, ${Math.abs(drawn.differenceMm).toFixed(1)}\u202fmm apart`;
  }
  const seam = stages.value.draw.value?.cut.seams.find((known) => known.id === id);
  return seam && `${seam.id}: ${seam.surfaceMm.toFixed(1)}\u202fmm on the body`;
}

export const clearHover = (): void => {
  hoverSpot.value = undefined;
  hoverSeam.value = undefined;
};
