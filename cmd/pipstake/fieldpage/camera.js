// Scanning, where the browser has a detector of its own and lets a page use the
// camera. Where not, the page says why.

const wantedFormats = ["qr_code", "data_matrix"];
let stream = null;

// cannotScan says why this browser cannot scan, "" where it can.
async function cannotScan() {
  if (!window.isSecureContext) {
    return "Browsers let a page use the camera only where it comes from a secure place: this device’s own files, or https. Type the identifier.";
  }
  if (!("BarcodeDetector" in window)) {
    return "This browser reads no codes by itself. Type the identifier, or scan with the phone’s own camera app and paste the text here.";
  }
  if (!navigator.mediaDevices || !navigator.mediaDevices.getUserMedia) return "This browser gives a page no camera. Type the identifier.";
  const formats = await window.BarcodeDetector.getSupportedFormats();
  if (!wantedFormats.some(f => formats.includes(f))) return "This browser reads neither QR codes nor Data Matrix. Type the identifier.";
  return "";
}

async function scan() {
  const why = await cannotScan();
  if (why) {
    say(why);
    return;
  }
  const formats = (await window.BarcodeDetector.getSupportedFormats()).filter(f => wantedFormats.includes(f));
  const detector = new window.BarcodeDetector({ formats });
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
    at("video").srcObject = stream;
    at("viewer").hidden = false;
    await at("video").play();
  } catch (e) {
    stop();
    say("The camera cannot be used (" + e.name + "). Type the identifier.");
    return;
  }
  say("Hold the code still, a hand’s breadth away.");
  watch(detector, stream);
}

// watch looks at the camera’s picture until a code is read or it is stopped.
async function watch(detector, mine) {
  while (stream === mine) {
    try {
      for (const code of await detector.detect(at("video"))) {
        if (stream === mine && look(code.rawValue)) {
          at("query").value = code.rawValue.split(/[\s/]/)[0];
          stop();
          return;
        }
      }
    } catch (e) {
      stop();
      say("The browser’s detector failed (" + e.name + "). Type the identifier.");
      return;
    }
    await new Promise(done => setTimeout(done, 200));
  }
}

function stop() {
  if (stream) stream.getTracks().forEach(track => track.stop());
  stream = null;
  at("viewer").hidden = true;
}

at("camera").addEventListener("click", scan);
at("stop").addEventListener("click", () => {
  stop();
  say("");
});
