// The project’s own reader of codes, which a page carries as WebAssembly unless
// it was made light. It is unpacked when first asked for, and works beside the
// page so that buttons answer meanwhile.

const packed = document.getElementById("reader");
const hasReader = Boolean(packed) && "WebAssembly" in window && "DecompressionStream" in window;
let reader = null; // a promise of a function that has pixels read

// readCodes has the codes on a picture read, quickly or thoroughly: those that
// were read have a text, those only seen have "". corners are those of the
// modules, in pixels of the picture.
async function readCodes(pixels, thorough) {
  if (!reader) reader = startReader();
  try {
    return await (await reader)(pixels, thorough);
  } catch (e) {
    reader = null; // a fresh one next time
    throw e;
  }
}

async function startReader() {
  const bytes = Uint8Array.from(atob(packed.textContent.trim()), c => c.charCodeAt(0));
  const module = await new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
  const worker = new Worker(URL.createObjectURL(new Blob(["\"use strict\";(" + besideThePage + ")()"], { type: "text/javascript" })));
  const ask = (message, goods) => new Promise((done, fail) => {
    worker.onmessage = event => event.data.failed ? fail(new Error(event.data.failed)) : done(event.data);
    worker.onerror = event => fail(new Error(event.message || "it does not start"));
    worker.postMessage(message, goods);
  });
  await ask({ module }, [module]);
  let turn = Promise.resolve(); // one picture after the other
  return (pixels, thorough) => {
    const mine = turn.then(() => ask({ pixels: pixels.data, width: pixels.width, height: pixels.height, thorough }, [pixels.data.buffer]));
    turn = mine.catch(() => worker.terminate());
    return mine.then(answer => answer.codes);
  };
}

// besideThePage is all that runs in the worker: the few functions of WASI
// preview 1 that a Go program asks for, and the taking apart of its answers. It
// sees nothing of the page.
function besideThePage() {
  let go = null;
  const view = () => new DataView(go.memory.buffer);
  const fine = 0;
  const badFile = 8;
  const none = (counts, sizes) => { // no arguments, no environment
    view().setUint32(counts, 0, true);
    view().setUint32(sizes, 0, true);
    return fine;
  };
  const said = [];
  const system = {
    args_sizes_get: none,
    environ_sizes_get: none,
    args_get: () => fine,
    environ_get: () => fine,
    sched_yield: () => fine,
    clock_time_get(clock, precision, at) {
      const milliseconds = clock === 0 ? Date.now() : performance.now();
      view().setBigUint64(at, BigInt(Math.round(milliseconds * 1e6)), true);
      return fine;
    },
    random_get(at, size) {
      for (let i = 0; i < size; i += 65536) crypto.getRandomValues(new Uint8Array(go.memory.buffer, at + i, Math.min(65536, size - i)));
      return fine;
    },
    // poll_oneoff is how Go waits. There is nothing to wait for: the time is over.
    poll_oneoff(wanted, happened, n, count) {
      for (let i = 0; i < n; i++) {
        const to = happened + 32 * i;
        view().setBigUint64(to, view().getBigUint64(wanted + 48 * i, true), true);
        view().setUint16(to + 8, 0, true);
        view().setUint8(to + 10, view().getUint8(wanted + 48 * i + 8));
      }
      view().setUint32(count, n, true);
      return fine;
    },
    // fd_write is where Go says why it gave up.
    fd_write(file, pieces, n, count) {
      if (file !== 1 && file !== 2) return badFile;
      let size = 0;
      for (let i = 0; i < n; i++) {
        const [at, length] = [view().getUint32(pieces + 8 * i, true), view().getUint32(pieces + 8 * i + 4, true)];
        if (said.length < 100) said.push(new TextDecoder().decode(new Uint8Array(go.memory.buffer, at, length)));
        size += length;
      }
      view().setUint32(count, size, true);
      return fine;
    },
    proc_exit(status) {
      throw new Error("the reader ended with " + status + ": " + said.join("").slice(0, 300));
    },
  };

  function codesOf(at, size) {
    const bytes = new DataView(go.memory.buffer, at, size);
    const codes = [];
    for (let i = 0; i < size;) {
      const corners = [0, 8, 16, 24].map(k => ({ x: bytes.getFloat32(i + k, true), y: bytes.getFloat32(i + k + 4, true) }));
      const length = bytes.getUint32(i + 32, true);
      codes.push({ corners, text: new TextDecoder().decode(new Uint8Array(go.memory.buffer, at + i + 36, length)) });
      i += 36 + length;
    }
    return codes;
  }

  // greyInto writes the lightness of pixels, by ITU-R BT.601.
  function greyInto(room, pixels) {
    for (let i = 0, k = 0; i < room.length; i++, k += 4) room[i] = (299 * pixels[k] + 587 * pixels[k + 1] + 114 * pixels[k + 2]) / 1000;
  }

  onmessage = async event => {
    const { module, pixels, width, height, thorough } = event.data;
    try {
      if (module) {
        const made = await WebAssembly.instantiate(module, { wasi_snapshot_preview1: system });
        go = made.instance.exports;
        go._initialize();
        postMessage({});
        return;
      }
      const at = go.room(width, height);
      greyInto(new Uint8Array(go.memory.buffer, at, width * height), pixels);
      const size = go.read(thorough ? 1 : 0);
      postMessage({ codes: codesOf(go.answer(), size) });
    } catch (e) {
      postMessage({ failed: String(e && e.message || e) });
    }
  };
}
