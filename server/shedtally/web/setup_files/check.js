// Four things this phone must be able to do, each tried for real and answered in words.

const ANSWER_WITHIN_MS = 5000;

function system() {
  const agent = navigator.userAgent;
  if (/iPhone|iPad/.test(agent)) return "ios";
  // An iPad that asks for desktop pages calls itself a Macintosh, but has fingers on it.
  if (/Macintosh/.test(agent)) return navigator.maxTouchPoints > 1 ? "ios" : "mac";
  if (/Android/.test(agent)) return "android";
  return /Windows/.test(agent) ? "windows" : "linux";
}

function show(id, good, words) {
  const row = document.getElementById(id);
  row.dataset.state = good ? "good" : "missing";
  row.querySelector("span").textContent = `${good ? "Good" : "Not yet"}: ${words}`;
  return good;
}

function soon(promise) {
  const late = new Promise((_, reject) =>
    setTimeout(() => reject(new Error("no answer")), ANSWER_WITHIN_MS),
  );
  return Promise.race([promise, late]);
}

function checkSecure() {
  return window.isSecureContext
    ? show("secure", true, "the browser counts this address as safe.")
    : show("secure", false, "this is the plain address. Open the safe one from this page.");
}

async function checkWorker() {
  if (!("serviceWorker" in navigator)) {
    return show("worker", false, "the browser offers this only over a trusted connection.");
  }
  try {
    const worker = await soon(
      navigator.serviceWorker.register("/setup/worker.js", { scope: "/setup/" }),
    );
    await worker.unregister();
    return show("worker", true, "Shedtally will open with the server out of reach.");
  } catch {
    return show(
      "worker",
      false,
      "the browser refused. Either the certificate is not trusted and a warning was tapped away, " +
        "or this is a private window.",
    );
  }
}

function checkCamera() {
  return navigator.mediaDevices?.getUserMedia
    ? show("camera", true, "the page may ask for it. The phone will ask you at the first use.")
    : show("camera", false, "only the phone's own camera, one file at a time, works here.");
}

async function checkKeeps() {
  if (!window.isSecureContext) {
    return show("keeps", false, "what is noted here would not come over to the safe address.");
  }
  const name = "shedtally-setup-check";
  try {
    await soon(
      new Promise((resolve, reject) => {
        const request = indexedDB.open(name, 1);
        request.onerror = () => reject(request.error);
        request.onsuccess = () => {
          request.result.close();
          indexedDB.deleteDatabase(name);
          resolve();
        };
      }),
    );
    return show("keeps", true, "photographs and notes can wait on this phone.");
  } catch {
    return show("keeps", false, "the browser has no lasting storage here. Leave the private window.");
  }
}

document.querySelector(`details[data-system="${system()}"]`)?.setAttribute("open", "");

const answers = [checkSecure(), await checkWorker(), checkCamera(), await checkKeeps()];
const missing = answers.filter((good) => !good).length;
const verdict = {
  ready: "All four are good. This phone is ready.",
  plain: "This is the plain address. The checks run again on the safe one, in step 2.",
  some: `${missing} of 4 not good yet. What each one needs stands beside it. Nothing is lost.`,
};
const state = missing === 0 ? "ready" : window.isSecureContext ? "some" : "plain";
document.getElementById("result").textContent = verdict[state];
