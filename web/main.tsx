/*
 * The page begins: theme, keys, and the job that the address names.
 */
import { render } from 'preact';
import { listenToKeys } from './acts/keys.ts';
import { Bench } from './bench/bench.tsx';
import { openFromAddress, watchOtherWindows } from './desk.ts';
import { dressPage } from './theme.ts';

dressPage();
listenToKeys();
watchOtherWindows();
const place = document.getElementById('bench');
if (place) render(<Bench />, place);
void openFromAddress();
