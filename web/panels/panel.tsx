/*
 * The panel: what this station asks and tells.
 */
import type { ComponentType, JSX } from 'preact';
import { hintsGone, openJob, stages, station } from '../state.ts';
import type { StationName } from '../stations.ts';
import { stationOf } from '../stations.ts';
import { Icon } from '../fields/icons.tsx';
import { BodyPanel } from './body-panel.tsx';
import { ClearancePanel } from './clearance-panel.tsx';
import { DraftPanel } from './draft-panel.tsx';
import { DrawPanel } from './draw-panel.tsx';
import { EmptyPanel } from './empty-panel.tsx';
import { LayFlatPanel } from './lay-flat-panel.tsx';
import { PrintPanel } from './print-panel.tsx';
import { SheetsPanel } from './sheets-panel.tsx';

const panels: Readonly<Record<StationName, ComponentType>> = {
  body: BodyPanel,
  clearance: ClearancePanel,
  draw: DrawPanel,
  'lay-flat': LayFlatPanel,
  draft: DraftPanel,
  sheets: SheetsPanel,
  print: PrintPanel,
};

export function Panel(): JSX.Element {
  const here = stationOf(station.value);
  const Content = openJob.value ? panels[here.name] : EmptyPanel;
  const { status, account } = stages.value[here.stage];
  return (
    <div class="panel" id="panel" role="tabpanel" aria-labelledby={`tab-${here.name}`} tabIndex={-1}>
      <div class="panel-head">
        <h2>{here.title}</h2>
        <p>{here.purpose}</p>
      </div>
      <Hint name={here.name} words={here.hint} />
      {status === 'failed' && account && (
        <section class="card severe" role="alert">
          <header>
            <Icon name="severe" />
            <h3>{account.what}</h3>
          </header>
          <p>{account.mend}</p>
        </section>
      )}
      <Content />
    </div>
  );
}

function Hint({ name, words }: { readonly name: string; readonly words: string }): JSX.Element | null {
  if (hintsGone.value.includes(name)) return null;
  return (
    <section class="hint" aria-label="Hint">
      <p>{words}</p>
      <button
        type="button"
        class="quiet"
        aria-label="Do not show this hint again"
        title="Do not show this hint again"
        onClick={() => (hintsGone.value = [...hintsGone.value, name])}
      >
        <Icon name="close" />
      </button>
    </section>
  );
}
