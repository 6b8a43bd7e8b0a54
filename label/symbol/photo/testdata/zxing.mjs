// Reads pictures with the npm package zxing-wasm, which carries a current
// zxing-cpp: a line of JSON for each, with the texts that were read and the
// milliseconds of processor that it took. The first picture is read twice
// more, so that the start and the compiling count for none.
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";

const [folder, ...files] = process.argv.slice(2);
const require = createRequire(folder + "/");
const { prepareZXingModule, readBarcodes } = require("zxing-wasm/reader");
await prepareZXingModule({ overrides: { wasmBinary: await readFile(require.resolve("zxing-wasm/reader/zxing_reader.wasm")) }, fireImmediately: true });
const options = { formats: ["QRCode", "DataMatrix"], tryHarder: true, tryRotate: true, tryInvert: true, tryDownscale: true, maxNumberOfSymbols: 255 };
for (const [i, file] of [files[0], files[0], ...files].entries()) {
  const data = await readFile(file);
  const before = process.cpuUsage();
  const found = await readBarcodes(new Uint8Array(data), options);
  const took = process.cpuUsage(before);
  if (i > 1) console.log(JSON.stringify({ file, texts: found.filter(f => f.isValid).map(f => f.text), ms: (took.user + took.system) / 1000 }));
}
