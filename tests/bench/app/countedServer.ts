import { connect, createServer, type Socket } from 'node:net';
import { serve } from '../../support/server.ts';

/** A served build behind a counter of every byte that goes out of it, headers and all. */
export interface CountedServer {
  readonly url: string;
  /** Bytes sent to the browser since the start. */
  readonly sent: () => number;
  close(): Promise<void>;
}

/** Serve a build as `npm start` does, and count what travels. */
export async function serveCounted(folder: string): Promise<CountedServer> {
  const server = await serve(folder);
  const { hostname, port } = new URL(server.url);
  const open = new Set<Socket>();
  let sent = 0;
  const counter = createServer((browser) => {
    const app = connect(Number(port), hostname);
    app.on('data', (bytes) => (sent += bytes.length));
    browser.pipe(app).pipe(browser);
    for (const socket of [browser, app]) {
      open.add(socket);
      socket.on('close', () => open.delete(socket));
      socket.on('error', () => {
        browser.destroy();
        app.destroy();
      });
    }
  });
  await new Promise<void>((done) => counter.listen(0, hostname, done));
  const address = counter.address();
  if (address === null || typeof address === 'string') throw new Error('no_port: counter has none');
  return {
    url: `http://${hostname}:${address.port}/`,
    sent: () => sent,
    async close() {
      for (const socket of open) socket.destroy();
      await new Promise((done) => counter.close(done));
      await server.close();
    },
  };
}
