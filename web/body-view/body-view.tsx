/*
 * The pane with the body: the picture, the tray of tools, words beside places, and the hand (pointer, pen, fingers, keys).
 */
import { useEffect, useRef, useState } from 'preact/hooks';
import { effect, untracked } from '@preact/signals';
import type { JSX } from 'preact';
import type { Vec3 } from '../../src/base/arrays.ts';
import { body, openJob, stages, tool } from '../state.ts';
import type { ToolName } from '../state.ts';
import { tools } from '../tools/index.ts';
import type { ToolHand } from '../tools/tool.ts';
import { bodyScene } from './current-scene.ts';
import { bindHand } from './hand.ts';
import type { BodyScene } from './scene.ts';
import { createBodyScene } from './scene.ts';
import { showJob } from './show-job.ts';
import { Tray } from './tray.tsx';
import { AreaNames } from './area-names.tsx';
import { ViewBar } from './view-bar.tsx';

interface Note {
  readonly words: string;
  readonly at?: Vec3;
}

export function BodyView(): JSX.Element {
  const canvas = useRef<HTMLCanvasElement>(null);
  const frame = useRef<HTMLDivElement>(null);
  const noteBox = useRef<HTMLDivElement>(null);
  const [scene, setScene] = useState<BodyScene | undefined>(undefined);
  const [isBlind, setBlind] = useState(false);
  const hand = useRef<ToolHand | undefined>(undefined);
  const note = useRef<Note | undefined>(undefined);

  function placeNote(made: BodyScene): void {
    const box = noteBox.current;
    if (!box) return;
    box.hidden = note.current === undefined;
    if (!note.current) return;
    box.textContent = note.current.words;
    const seen = note.current.at ? made.project(note.current.at) : undefined;
    box.classList.toggle('fixed', seen === undefined);
    box.style.transform = seen ? `translate(${Math.round(seen.x + 16)}px, ${Math.round(seen.y - 30)}px)` : '';
  }

  function takeInHand(made: BodyScene, name: ToolName): void {
    hand.current?.cancel();
    hand.current?.out?.();
    made.handles.set([]);
    note.current = undefined;
    hand.current = tools
      .find((entry) => entry.name === name)
      ?.take({
        scene: made,
        note: (words, at) => {
          note.current = words === undefined ? undefined : { words, ...(at ? { at } : {}) };
          placeNote(made);
        },
      });
    placeNote(made);
  }

  useEffect(() => {
    if (!canvas.current || !frame.current) return;
    let made: BodyScene;
    try {
      made = createBodyScene(canvas.current);
    } catch {
      setBlind(true);
      return;
    }
    const pane = frame.current;
    const resize = (): void => made.resize(Math.max(1, pane.clientWidth), Math.max(1, pane.clientHeight), devicePixelRatio);
    const watch = new ResizeObserver(resize);
    watch.observe(pane);
    resize();
    const stopDrawn = made.onDrawn(() => placeNote(made));
    const stopShow = showJob(made);
    // Another tool in hand: the old one puts its things away. At once, so that the next click is the new tool's.
    const stopTool = effect(() => {
      const name = tool.value;
      untracked(() => takeInHand(made, name));
    });
    const stopHand = bindHand(canvas.current, made, () => hand.current);
    setScene(made);
    bodyScene.value = made;
    return () => {
      bodyScene.value = undefined;
      watch.disconnect();
      stopDrawn();
      stopShow();
      stopHand();
      stopTool();
      made.dispose();
    };
  }, []);

  const inHand = tools.find((entry) => entry.name === tool.value);
  const isWaiting = openJob.value !== undefined && body.value === undefined && stages.value.body.status === 'working';
  return (
    <section class={`pane body-pane tool-${tool.value}`} aria-label="Body" ref={frame}>
      <canvas
        ref={canvas}
        tabIndex={0}
        role="application"
        aria-label={`The body. ${inHand?.hint ?? ''} By keyboard: arrow keys move the hand or turn the body, Space presses, Enter ends.`}
      />
      {isBlind && (
        <p class="empty-pane" role="alert">
          This browser shows no 3D pictures (WebGL is off). Everything else works; turn on hardware acceleration to see the body.
        </p>
      )}
      {isWaiting && <p class="empty-pane">Reading the scan …</p>}
      {openJob.value !== undefined && <Tray />}
      <AreaNames scene={scene} />
      <div class="slip" ref={noteBox} hidden role="status" />
      {openJob.value !== undefined && (
        <div class="body-foot">
          {inHand && <p class="hint-line">{inHand.hint}</p>}
          <ViewBar />
        </div>
      )}
    </section>
  );
}
