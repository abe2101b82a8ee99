#!/usr/bin/env node
// Starts the command line from TypeScript sources.
import { register } from 'tsx/esm/api';

register();
await import('./cli.ts');
