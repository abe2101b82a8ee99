/*
 * The bench: what was on the wall above (name, tape of stations), the two panes and the panel, and the foot with what is going on.
 */
import { useEffect, useState } from 'preact/hooks';
import type { ComponentType, JSX } from 'preact';
import { isSwapped, panelPx, paneShare } from '../state.ts';
import { Panel } from '../panels/panel.tsx';
import { PartsView } from '../parts-view/parts-view.tsx';
import { Dialogs } from './dialogs.tsx';
import { DropZone } from './drop-zone.tsx';
import { Foot } from './foot.tsx';
import { SavingBanner } from './saving-banner.tsx';
import { Splitter } from './splitter.tsx';
import { Tape } from './tape.tsx';
import { Toasts } from './toasts.tsx';
import { TopBar } from './top-bar.tsx';

export function Bench(): JSX.Element {
  const [BodyView, setBodyView] = useState<ComponentType | undefined>(undefined);
  // The 3D library is the largest piece of the page: it loads beside the rest.
  useEffect(() => void import('../body-view/body-view.tsx').then((module) => setBodyView(() => module.BodyView)), []);
  const body = BodyView ? <BodyView /> : <section class="pane body-pane" aria-label="Body" aria-busy="true" />;
  const paper = <PartsView />;
  const columns = `minmax(280px, ${paneShare.value}fr) 0 minmax(280px, ${1 - paneShare.value}fr) 0 ${panelPx.value}px`;
  return (
    <div class="bench">
      <a class="skip" href="#panel">
        To the panel
      </a>
      <TopBar />
      <Tape />
      <SavingBanner />
      <main class={`floor${isSwapped.value ? ' swapped' : ''}`} style={{ gridTemplateColumns: columns }}>
        {body}
        <Splitter label="Share of body and paper" kind="panes" />
        {paper}
        <Splitter label="Width of the panel" kind="panel" />
        <Panel />
      </main>
      <Foot />
      <Toasts />
      <Dialogs />
      <DropZone />
    </div>
  );
}
