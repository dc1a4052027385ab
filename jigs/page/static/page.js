// Fetches what the server rendered and swaps it in; keeps the scale of the screen. It works nothing out.
"use strict";

const byId = (id) => document.getElementById(id);

// -- forms that answer as one types

function swap(text) {
  const came = new DOMParser().parseFromString(text, "text/html");
  for (const found of came.body.querySelectorAll("[id]")) {
    const there = byId(found.id);
    // the elements themselves stay, so that a reader of the screen keeps watching them
    if (!there || found.parentElement.closest("[id]")) continue;
    // whole pages are always new: comparing them would take longer than drawing them
    if ("fresh" in found.dataset || there.innerHTML !== found.innerHTML) {
      there.replaceChildren(...found.childNodes);
    }
  }
  for (const fault of document.querySelectorAll(".fault[data-of]")) {
    const box = byId(fault.dataset.of);
    if (!box) continue;
    if (fault.textContent) {
      box.setAttribute("aria-invalid", "true");
      opened(box);
    } else box.removeAttribute("aria-invalid");
  }
  trueSizes();
  scrollable();
  follow();
}

function opened(box) {
  for (let at = box; at; at = at.parentElement) if (at.localName === "details") at.open = true;
}

let asked = 0;
let shown = 0;
const PART = { "X-Part": "1" };

async function ask(form) {
  const number = ++asked;
  delete document.body.dataset.settled;
  const words = new URLSearchParams(new FormData(form));
  const isSent = form.method === "post";
  const address = form.dataset.live || form.getAttribute("action");
  const query = `${address}?${words}`;
  let text;
  try {
    const answer = isSent
      ? await fetch(address, { method: "POST", headers: PART, body: words })
      : await fetch(query, { headers: PART });
    text = await told(answer);
  } catch {
    text = lost("Coilwright does not answer: it was closed. Start it again; what you typed stays here.");
  }
  if (number <= shown) return; // a newer answer is there already
  shown = number;
  swap(text);
  if (number !== asked) return; // a newer answer is on its way; browsers refuse an address that changes too often
  document.body.dataset.settled = "";
  if (!isSent) history.replaceState(null, "", query);
}

async function told(answer) {
  const text = await answer.text();
  return answer.headers.get("content-type")?.startsWith("text/plain") ? lost(text) : text;
}

function lost(words) {
  const box = document.createElement("div");
  box.innerHTML = '<div id="all-said"><p class="fault"></p></div>';
  box.querySelector("p").textContent = words;
  return box.innerHTML;
}

for (const form of document.querySelectorAll("form[data-live]")) {
  form.addEventListener("input", () => ask(form));
  form.addEventListener("submit", (event) => {
    const wrong = event.submitter?.formMethod === "post" && form.querySelector(".fields [aria-invalid]");
    if (wrong && asked === shown) {
      event.preventDefault(); // it would be refused, and what was found before would be gone
      wrong.focus();
    }
    if (form.method === "post" || event.submitter?.hasAttribute("formaction")) return;
    event.preventDefault();
    ask(form);
  });
  // what was typed before this script was there, or kept by the browser
  if (plain(new URLSearchParams(new FormData(form))) !== asServed(form)) ask(form);
}

function plain(words) {
  return words.toString().replaceAll("%0D%0A", "%0A");
}

function asServed(form) {
  const words = new URLSearchParams();
  for (const box of form.elements) {
    if (!box.name || box.type === "submit") continue;
    if (box.options) {
      const first = [...box.options].find((option) => option.defaultSelected) ?? box.options[0];
      words.append(box.name, first.value);
    } else if (box.type === "hidden" || !("defaultChecked" in box) || !["radio", "checkbox"].includes(box.type) || box.defaultChecked) {
      words.append(box.name, box.defaultValue);
    }
  }
  return plain(words);
}

// -- a file that is dropped or chosen is sent as it is

for (const form of document.querySelectorAll("form[data-upload]")) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const chosen = form.querySelector("input[type=file]");
    const files = [...chosen.files];
    const fault = byId(`${chosen.id}-fault`);
    fault.textContent = files.length ? "" : "Choose a file first.";
    if (!files.length) {
      chosen.focus();
      return;
    }
    if (form.dataset.sent) return;
    form.dataset.sent = "yes";
    const words = new URLSearchParams(new FormData(form));
    const beside = byId(form.dataset.upload); // a form whose boxes belong to it too
    if (beside) for (const [key, value] of new FormData(beside)) words.set(key, value);
    words.set("name", files[0].name);
    words.set("names", files.map((file) => file.name.replaceAll("/", "_")).join("/"));
    words.set("sizes", files.map((file) => file.size).join(","));
    let text;
    try {
      const headers = { ...PART, "Content-Type": "application/octet-stream" };
      const answer = await fetch(`${form.getAttribute("action")}?${words}`, { method: "POST", headers, body: new Blob(files) });
      if (answer.redirected) {
        isTyped = false;
        location = answer.url;
        return;
      }
      text = await told(answer);
    } catch {
      text = lost("The file could not be sent. Choose it again.");
    }
    delete form.dataset.sent;
    swap(text);
    reach(document.querySelector("[aria-invalid]") ?? document.querySelector("#all-said:has(.fault)") ?? fault);
  });
}

// -- a form is sent once, however often its button is pressed; what was typed in it is not left behind unasked

let isTyped = performance.getEntriesByType("navigation")[0]?.responseStatus === 422; // sent, refused, and not written

for (const form of document.forms) {
  if (form.matches('.order[method="post"]')) form.addEventListener("input", () => { isTyped = true; });
  form.addEventListener("submit", (event) => {
    if ((event.submitter?.getAttribute("formmethod") ?? form.method) !== "post") return;
    if (form.dataset.sent) event.preventDefault();
    form.dataset.sent = "yes";
    isTyped = false;
  });
}

window.addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-sent]")) delete form.dataset.sent;
});
window.addEventListener("beforeunload", (event) => { if (isTyped) event.preventDefault(); });

// -- work that takes a while is asked for until it is over

function follow() {
  const work = document.querySelector("[data-poll]");
  if (!work || work.dataset.asked) return;
  work.dataset.asked = "yes";
  setTimeout(async () => {
    try {
      swap(await told(await fetch(work.dataset.poll, { headers: PART })));
    } catch {
      swap(lost("Coilwright does not answer: it was closed."));
    }
  }, 300);
}

follow();

// what is wider than the window is scrolled with the keys too
function scrollable() {
  for (const box of document.querySelectorAll(".wide")) {
    if (box.scrollWidth > box.clientWidth) box.tabIndex = 0;
    else box.removeAttribute("tabindex");
  }
}

// -- the scale of this screen, kept for its size, its density and the zoom

const screenKey = () => `mm ${screen.width}x${screen.height}@${window.devicePixelRatio}`;

function pixelsPerMm() {
  const kept = Number(localStorage.getItem(screenKey()));
  return kept > 1 && kept < 60 ? kept : 0;
}

function trueSizes() {
  const scale = pixelsPerMm();
  for (const zoom of document.querySelectorAll("[data-zooms]")) zoomed(zoom, scale);
  for (const drawing of document.querySelectorAll("svg[data-mm]")) {
    if (!scale) continue;
    const [, , wide, high] = drawing.getAttribute("viewBox").split(" ").map(Number);
    const pixels = Number(drawing.dataset.mm) * scale;
    drawing.style.width = `${pixels}px`;
    drawing.style.height = `${(pixels * high) / wide}px`;
  }
  for (const words of document.querySelectorAll("[data-scale]")) {
    words.hidden = (words.dataset.scale === "known") !== scale > 0;
  }
}

function zoomed(zoom, scale) {
  const pages = byId(zoom.dataset.zooms);
  const isTrue = zoom.value === "true";
  pages.dataset.zoom = isTrue && !scale ? "fit" : zoom.value;
  for (const page of pages.querySelectorAll(".sheet > svg")) {
    const [, , wide, high] = page.getAttribute("viewBox").split(" ").map(Number);
    page.style.width = isTrue && scale ? `${wide * scale}px` : "";
    page.style.height = isTrue && scale ? `${high * scale}px` : "";
  }
  const said = byId(`${zoom.id}-said`);
  if (!isTrue) said.textContent = "";
  else if (scale) said.textContent = "For looking, not for measuring: print it, and measure the check bars.";
  else said.innerHTML = 'The scale of this screen is not known: <a href="/screen">set it by a bank card</a>.';
}

for (const zoom of document.querySelectorAll("[data-zooms]")) {
  zoom.addEventListener("input", (event) => { event.stopPropagation(); trueSizes(); });
}

const screenForm = byId("screen");
if (screenForm) {
  const slider = byId("scale");
  const card = byId("card");
  const wide = Number(screenForm.dataset.wide);
  const say = (words) => { byId("scale-said").textContent = words; };
  const draw = () => { card.style.width = `${slider.value}px`; };
  if (pixelsPerMm()) {
    slider.value = String(pixelsPerMm() * wide);
    say("This screen is set.");
  }
  draw();
  slider.addEventListener("input", draw);
  screenForm.addEventListener("submit", (event) => event.preventDefault());
  byId("keep-scale").addEventListener("click", () => {
    localStorage.setItem(screenKey(), String(Number(slider.value) / wide));
    say("Kept. Rings and sheets can now be shown at true size: for looking, not for measuring.");
  });
  byId("forget-scale").addEventListener("click", () => {
    localStorage.removeItem(screenKey());
    say("Forgotten.");
  });
}

// -- what a form that was sent came to is where one reads on: what was done, or the first box to put right

const outcome =
  document.querySelector(".saved") ??
  document.querySelector('form[method="post"] [aria-invalid], .keeping [aria-invalid]') ??
  document.querySelector("#all-said:has(.fault)");
if (outcome) reach(outcome);

function reach(found) {
  opened(found);
  if (!found.name) found.tabIndex = -1;
  found.focus();
}

window.addEventListener("resize", () => { trueSizes(); scrollable(); });
trueSizes();
scrollable();
