// Scanning: live, by the browser’s own detector where it has one for both kinds
// of codes, else by the project’s reader; and from pictures, which need neither
// a secure place nor leave to use the camera.

const wantedFormats = ["qr_code", "data_matrix"];
const mostLive = 960; // pixels of a side of a live frame that is read
const mostQuick = 1600; // of a picture, at first
const mostThorough = 4096; // of a picture in which nothing was read
let stream = null;

// nativeDetector gives the browser’s own detector, null where it has none for
// the formats, all of them or some.
async function nativeDetector(all) {
  if (!("BarcodeDetector" in window)) return null;
  const formats = (await window.BarcodeDetector.getSupportedFormats()).filter(f => wantedFormats.includes(f));
  if (formats.length === 0 || all && formats.length < wantedFormats.length) return null;
  const detector = new window.BarcodeDetector({ formats });
  return async source => (await detector.detect(source)).map(code => code.rawValue);
}

// liveReader gives a function that reads the codes on a video’s picture now:
// their texts.
async function liveReader() {
  const native = await nativeDetector(hasReader);
  if (native || !hasReader) return native;
  return async video => {
    const pixels = pixelsOf(video, video.videoWidth, video.videoHeight, mostLive);
    return textsOf(await readCodes(pixels, false));
  };
}

function textsOf(codes) {
  return codes.map(code => code.text).filter(text => text !== "");
}

// pixelsOf gives the pixels of a picture, made smaller to at most so many along
// its longer side.
function pixelsOf(source, width, height, most) {
  const scale = Math.min(1, most / Math.max(width, height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(width * scale));
  canvas.height = Math.max(1, Math.round(height * scale));
  const context = canvas.getContext("2d", { willReadFrequently: true });
  context.fillStyle = "white"; // behind what is transparent
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(source, 0, 0, canvas.width, canvas.height);
  return context.getImageData(0, 0, canvas.width, canvas.height);
}

// cannotScan says why this browser cannot scan live, "" where it can.
async function cannotScan() {
  const otherwise = canReadPictures() ? "Take a picture instead, or type the identifier." : "Type the identifier.";
  if (!window.isSecureContext) {
    return "Browsers let a page use the camera only where it comes from a secure place: this device’s own files, or https. " + otherwise;
  }
  if (!hasReader && !("BarcodeDetector" in window)) {
    return "This browser reads no codes by itself. Type the identifier, or scan with the phone’s own camera app and paste the text here.";
  }
  if (!navigator.mediaDevices || !navigator.mediaDevices.getUserMedia) return "This browser gives a page no camera. " + otherwise;
  if (!hasReader && !await nativeDetector(false)) return "This browser reads neither QR codes nor Data Matrix. Type the identifier.";
  return "";
}

// scan looks through the camera until take(texts) returns true, or it is
// stopped.
async function scan(take) {
  const why = await cannotScan();
  if (why) {
    refuse(why);
    return;
  }
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: { ideal: 1280 } } });
    at("video").srcObject = stream;
    at("viewer").hidden = false;
    await at("video").play();
  } catch (e) {
    stop();
    refuse("The camera cannot be used (" + e.name + "). " + (canReadPictures() ? "Take a picture instead, or type the identifier." : "Type the identifier."));
    return;
  }
  offerTorch(stream.getVideoTracks()[0]);
  say("Hold the code still, a hand’s breadth away.");
  watch(await liveReader(), stream, take);
}

// watch looks at the camera’s picture again and again.
async function watch(readLive, mine, take) {
  while (stream === mine) {
    try {
      const texts = await readLive(at("video"));
      if (stream === mine && texts.length > 0 && take(texts)) {
        stop();
        return;
      }
    } catch (e) {
      stop();
      refuse("The reader of codes failed (" + (e.message || e.name) + "). Type the identifier.");
      return;
    }
    await new Promise(done => setTimeout(done, 120));
  }
}

// offerTorch shows the switch of the lamp where the camera has one.
function offerTorch(track) {
  const able = track && track.getCapabilities ? track.getCapabilities() : {};
  at("torch").hidden = !able.torch;
  at("torch").setAttribute("aria-pressed", "false");
  at("torch").onclick = async () => {
    const on = at("torch").getAttribute("aria-pressed") !== "true";
    try {
      await track.applyConstraints({ advanced: [{ torch: on }] });
      at("torch").setAttribute("aria-pressed", String(on));
    } catch {
      at("torch").hidden = true;
    }
  };
}

function stop() {
  if (stream) stream.getTracks().forEach(track => track.stop());
  stream = null;
  at("viewer").hidden = true;
}

function canReadPictures() {
  return hasReader || "BarcodeDetector" in window;
}

// readPicture gives the texts of the codes on a picture that was taken or chosen,
// and how many more were seen and not read.
async function readPicture(file) {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  if (!hasReader) {
    const native = await nativeDetector(false);
    return { texts: native ? await native(picture) : [], seen: 0 };
  }
  let codes = [];
  const sides = Math.max(picture.width, picture.height) > mostQuick ? [mostQuick, mostThorough] : [mostQuick];
  for (const most of sides) {
    codes = await readCodes(pixelsOf(picture, picture.width, picture.height, most), true);
    if (codes.length > 0 && codes.every(code => code.text !== "")) break;
  }
  const texts = textsOf(codes);
  return { texts, seen: codes.length - texts.length };
}
