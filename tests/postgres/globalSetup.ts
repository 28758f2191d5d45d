/** Starts the server that the project `server` runs on. */
import type { TestProject } from 'vitest/node';
import { startServer } from './server.js';

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const server = await startServer();
  project.provide('server', server.url);
  return server.stop;
}
