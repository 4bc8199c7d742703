// Something on this machine that a request would reach: it answers everything and remembers what was asked
// for.

import { createHash } from 'node:crypto';
import { createServer } from 'node:http';

export async function listen() {
  const paths = [];
  const server = createServer((request, response) => {
    paths.push(request.url);
    const types = {
      '/script': 'text/javascript',
      '/worker': 'text/javascript',
      '/style': 'text/css',
      '/img': 'image/gif',
    };
    response.setHeader('content-type', types[request.url] ?? 'text/plain');
    response.setHeader('access-control-allow-origin', '*');
    response.end(
      request.url === '/worker'
        ? 'postMessage(1)'
        : request.url === '/img'
          ? Buffer.from('R0lGODlhAQABAIAAAAAAAP///yH5BAEAAAAALAAAAAABAAEAAAIBRAA7', 'base64')
          : '',
    );
  });
  const sockets = new Set();
  server.on('upgrade', (request, socket) => {
    paths.push(request.url);
    sockets.add(socket);
    socket.on('error', () => {});
    // RFC 6455, section 4.2.2.
    const key = createHash('sha1')
      .update(`${request.headers['sec-websocket-key']}258EAFA5-E914-47DA-95CA-C5AB0DC85B11`)
      .digest('base64');
    socket.write(
      'HTTP/1.1 101 Switching Protocols\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n' +
        `Sec-WebSocket-Accept: ${key}\r\n\r\n`,
    );
  });
  await new Promise(done => server.listen(0, '127.0.0.1', done));
  return {
    port: server.address().port,
    paths,
    async until(holds, what) {
      const end = Date.now() + 5000;
      while (!holds(paths)) {
        if (Date.now() > end) throw new Error(`${what}: only ${paths} arrived`);
        await new Promise(done => setTimeout(done, 10));
      }
    },
    close() {
      for (const socket of sockets) socket.destroy();
      server.closeAllConnections();
      return new Promise(done => server.close(done));
    },
  };
}
