// The core: one call that takes and gives JSON. It knows what notes mean; it keeps nothing by itself.

const encode = new TextEncoder();
const decode = new TextDecoder();

/** What the core refuses, in words for the user. */
export class Refused extends Error {}

let core;

/** Loads the core; once, before anything is asked. */
export async function load() {
  const answer = await fetch('core.wasm');
  if (!answer.ok) throw new Error(`the core cannot be loaded (${answer.status})`);
  // Compiled while it arrives, where the host gives the file its type.
  const { instance } = /wasm/.test(answer.headers.get('content-type') ?? '')
    ? await WebAssembly.instantiateStreaming(answer, {})
    : await WebAssembly.instantiate(await answer.arrayBuffer(), {});
  core = instance.exports;
}

/** Asks the core; `request` is one of those in web/core/src/request.rs. */
export function ask(request) {
  const bytes = encode.encode(JSON.stringify(request));
  const room = core.alloc(bytes.length);
  new Uint8Array(core.memory.buffer, room, bytes.length).set(bytes);
  const packed = core.call(room, bytes.length);
  const at = Number(packed >> 32n);
  const length = Number(packed & 0xffffffffn);
  const answer = JSON.parse(decode.decode(new Uint8Array(core.memory.buffer, at, length)));
  core.free(at, length);
  if ('error' in answer) throw new Refused(answer.error);
  return answer.ok;
}
