/*
 * The server alone, for tests that kill it: serves the jobs of a folder and prints its address.
 */
import { startServer } from '../../web/server/start.ts';

const server = await startServer({
  port: 0,
  host: '127.0.0.1',
  jobsFolder: process.argv[2],
  sample: () => Promise.reject(new Error('no sample here')),
});
console.log(server.address);
