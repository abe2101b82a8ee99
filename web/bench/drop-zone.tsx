/*
 * A file may be dropped anywhere. With a job on the bench the maker says what the file is for.
 */
import { useEffect, useState } from 'preact/hooks';
import type { JSX } from 'preact';
import { openFile } from '../desk.ts';
import { dialog, droppedFile, openJob } from '../state.ts';

export function DropZone(): JSX.Element | null {
  const [isOver, setOver] = useState(false);
  useEffect(() => {
    const hasFile = (event: DragEvent): boolean => event.dataTransfer?.types.includes('Files') === true;
    const over = (event: DragEvent): void => {
      if (!hasFile(event)) return;
      event.preventDefault();
      setOver(true);
    };
    const leave = (event: DragEvent): void => {
      if (event.relatedTarget === null) setOver(false);
    };
    const drop = (event: DragEvent): void => {
      if (!hasFile(event)) return;
      event.preventDefault();
      setOver(false);
      const file = event.dataTransfer?.files[0];
      if (file) take(file);
    };
    window.addEventListener('dragover', over);
    window.addEventListener('dragleave', leave);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragover', over);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('drop', drop);
    };
  }, []);
  return isOver ? (
    <div class="drop-zone" aria-hidden="true">
      <p>Let go to open it</p>
    </div>
  ) : null;
}

function take(file: File): void {
  if (openJob.value && !file.name.toLowerCase().endsWith('.plastron')) {
    droppedFile.value = file;
    dialog.value = 'drop';
  } else void openFile(file);
}
