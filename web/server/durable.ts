/*
 * Writing so that a crash, a full disk or a killed process leaves either the old file or the new one, never half of one.
 */
import { randomBytes } from 'node:crypto';
import type { FileHandle } from 'node:fs/promises';
import { open, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';

/** Temporary file beside the target, fsync, rename, fsync of the folder. */
export async function writeDurably(path: string, bytes: Uint8Array | string): Promise<void> {
  const temporary = `${path}.${randomBytes(6).toString('hex')}.part`;
  try {
    await withFile(temporary, 'wx', async (file) => {
      await file.writeFile(bytes);
      await file.sync();
    });
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  }
  await syncFolder(dirname(path));
}

/** Appends a line and waits until it is on the disk. */
export async function appendDurably(path: string, line: string): Promise<void> {
  await withFile(path, 'a', async (file) => {
    await file.appendFile(`${line}\n`);
    await file.sync();
  });
}

/** Makes renames and removals in a folder last. */
export async function syncFolder(path: string): Promise<void> {
  await withFile(path, 'r', (folder) => folder.sync());
}

async function withFile(path: string, flags: string, use: (file: FileHandle) => Promise<void>): Promise<void> {
  const file = await open(path, flags);
  try {
    await use(file);
  } finally {
    await file.close();
  }
}
