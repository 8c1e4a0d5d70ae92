// The core: one call that takes and gives JSON. It knows what notes mean; it keeps nothing by itself.

const encode = new TextEncoder();
const decode = new TextDecoder('utf-8', { ignoreBOM: true });

/** What the core refuses, in words for the user. */
export class Refused extends Error {}

let core;

/** Loads the core; once, before anything is asked. */
export async function load() {
  const answer = await fetch('core.wasm');
  if (!answer.ok) throw new Error(`the core cannot be loaded (${answer.status})`);
  // Compiled while it arrives, where the host gives the file its type.
  const { instance } = /wasm/.test(answer.headers.get('content-type') ?? '')
    ? await WebAssembly.instantiateStreaming(answer, host)
    : await WebAssembly.instantiate(await answer.arrayBuffer(), host);
  core = instance.exports;
}

/** What the core has done for it, as web/core/src/host.rs says: Unicode's tables are in the browser already. */
const host = {
  page: {
    composed(at, length) {
      const { room, bytes } = given(read(at, length).normalize('NFKC'));
      return (BigInt(room) << 32n) | BigInt(bytes);
    },
  },
};

/** Puts a text into a room of the core's. */
function given(text) {
  const bytes = encode.encode(text);
  const room = core.alloc(bytes.length);
  new Uint8Array(core.memory.buffer, room, bytes.length).set(bytes);
  return { room, bytes: bytes.length };
}

const read = (at, length) => decode.decode(new Uint8Array(core.memory.buffer, at, length));

/** Asks the core; `request` is one of those in web/core/src/request.rs. */
export function ask(request) {
  const { room, bytes } = given(JSON.stringify(request));
  const packed = core.call(room, bytes);
  const at = Number(packed >> 32n);
  const length = Number(packed & 0xffffffffn);
  const answer = JSON.parse(read(at, length));
  core.free(at, length);
  if ('error' in answer) throw new Refused(answer.error);
  return answer.ok;
}
