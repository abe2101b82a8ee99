/*
 * The scene on show, for acts that turn or photograph it.
 */
import { signal } from '@preact/signals';
import type { BodyScene } from './scene.ts';

export const bodyScene = signal<BodyScene | undefined>(undefined);
