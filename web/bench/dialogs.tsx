/*
 * The dialogs, one at a time. The native element keeps the focus inside and gives it back.
 */
import { useLayoutEffect, useRef } from 'preact/hooks';
import type { ComponentChildren, JSX } from 'preact';
import { Icon } from '../fields/icons.tsx';
import { MaterialDialog } from '../panels/material-dialog.tsx';
import { dialog } from '../state.ts';
import { AboutDialog } from './about-dialog.tsx';
import { DropDialog } from './drop-dialog.tsx';
import { JobsDialog } from './jobs-dialog.tsx';
import { KeysDialog } from './keys-dialog.tsx';
import { Palette } from './palette.tsx';
import { VersionsDialog } from './versions-dialog.tsx';
import { Welcome } from './welcome.tsx';

export function Dialogs(): JSX.Element | null {
  switch (dialog.value) {
    case 'palette':
      return (
        <Frame label="Find an act" kind="palette">
          <Palette />
        </Frame>
      );
    case 'jobs':
      return (
        <Frame label="Jobs kept here">
          <JobsDialog />
        </Frame>
      );
    case 'versions':
      return (
        <Frame label="Earlier versions">
          <VersionsDialog />
        </Frame>
      );
    case 'keys':
      return (
        <Frame label="Keys" kind="wide">
          <KeysDialog />
        </Frame>
      );
    case 'welcome':
      return (
        <Frame label="Welcome to the bench" kind="wide">
          <Welcome />
        </Frame>
      );
    case 'material':
      return (
        <Frame label="Material" kind="wide">
          <MaterialDialog />
        </Frame>
      );
    case 'drop':
      return (
        <Frame label="A scan was dropped">
          <DropDialog />
        </Frame>
      );
    case 'about':
      return (
        <Frame label="What Plastron is">
          <AboutDialog />
        </Frame>
      );
    case undefined:
      return null;
    default:
      return dialog.value satisfies never;
  }
}

interface FrameProps {
  readonly label: string;
  readonly kind?: 'palette' | 'wide';
  readonly children: ComponentChildren;
}

function Frame({ label, kind, children }: FrameProps): JSX.Element {
  const box = useRef<HTMLDialogElement>(null);
  // Before the next key arrives: what is typed at once must reach the dialog.
  useLayoutEffect(() => {
    const shown = box.current;
    shown?.showModal();
    return () => shown?.close();
  }, []);
  const close = (): void => {
    dialog.value = undefined;
  };
  return (
    <dialog
      ref={box}
      class={kind ?? ''}
      aria-label={label}
      onCancel={close}
      onClose={close}
      onClick={(event) => {
        if (event.target === box.current) close();
      }}
    >
      <div class="dialog-body">
        {kind !== 'palette' && (
          <header>
            <h2>{label}</h2>
            <button type="button" class="quiet" aria-label="Close" onClick={close}>
              <Icon name="close" />
            </button>
          </header>
        )}
        {children}
      </div>
    </dialog>
  );
}
