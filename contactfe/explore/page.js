// The page: native inputs, and places for what is sent. It knows nothing of what it shows.

const SHELL = `
<header>
  <div><h1></h1><p id="held"></p></div>
  <p id="status" role="status"></p>
  <div class="actions" role="group" aria-label="Case">
    <button type="button" data-do="again">Start again</button>
    <button type="button" data-do="download">Download the case</button>
    <button type="button" data-do="save">Save beside the case</button>
    <button type="button" data-do="report">Report</button>
  </div>
  <p id="say" role="alert"></p>
</header>
<form aria-label="What is moved"></form>
<section aria-label="Section and walls" class="drawn">
  <figure data-slot="picture" data-empty><p class="mark"></p><img alt="">
    <details><summary>About this figure</summary><figcaption></figcaption></details></figure>
  <p class="beneath"><button type="button" data-do="fit">Fit the colours</button></p>
  <figure data-slot="curve" data-empty><p class="mark"></p><img alt="">
    <details><summary>About this figure</summary><figcaption></figcaption></details></figure>
  <h2><input type="checkbox" id="beyond" data-ask="beyond"> <label for="beyond">Beyond first yield</label></h2>
  <p id="working" role="status"></p>
  <div data-slot="beyond" data-empty><p class="mark"></p><div class="content"></div></div>
  <figure data-slot="plastic" data-empty><p class="mark"></p><img alt="">
    <details><summary>About this figure</summary><figcaption></figcaption></details></figure>
  <h2>Hand formulas</h2>
  <div data-slot="hand" data-empty><p class="mark"></p><div class="content"></div></div>
</section>
<section aria-label="Answer" class="answer">
  <h2>Answer</h2>
  <div data-slot="answer" data-empty><p class="mark"></p><div class="content"></div></div>
  <div data-slot="verdicts" data-empty><p class="mark"></p><div class="content"></div></div>
  <h2>Sections compared</h2>
  <div data-slot="beside" data-empty><p class="mark"></p><div class="content"></div></div>
  <div class="pins"><button type="button" data-do="pin">Pin this section</button><ul></ul></div>
</section>
<footer><p id="caution"></p></footer>`;

const SLOTS = ["answer", "hand", "verdicts", "beside", "picture", "curve", "beyond", "plastic"];

export function render({ model, view }) {
  const root = document.createElement("main");
  root.innerHTML = SHELL;
  const one = (selector) => root.querySelector(selector);
  const slot = (name) => one(`[data-slot="${name}"]`);
  const fields = new Map(); // key of an input -> its elements
  const waiting = new Map(); // what is asked once the last question is answered
  let number = 0; // of the last question
  let accepted = 0; // of the last that was no fault: parts of others are too late
  let asking = false;

  function ask(name, value) {
    waiting.delete(name);
    waiting.set(name, value);
    next();
  }

  function next() {
    if (asking || waiting.size === 0) return;
    const [name, value] = waiting.entries().next().value;
    waiting.delete(name);
    asking = true;
    number += 1;
    performance.mark(`asked ${number}`);
    root.dataset.asked = number;
    const [ask, key = ""] = name.split(" ");
    model.send_msg({ number, ask, key, value });
  }

  function input(of) {
    const row = document.createElement("div");
    const id = of.key.replace(".", "-");
    row.className = "row";
    row.dataset.key = of.key;
    if ("choice" in of) {
      row.innerHTML = `<label for="${id}"></label><select id="${id}"></select>`;
    } else if ("on" in of) {
      row.classList.add("tick");
      row.innerHTML = `<input type="checkbox" id="${id}"><label for="${id}"></label>`;
    } else {
      row.innerHTML = `<label for="${id}"></label>
        <input type="text" id="${id}" spellcheck="false" autocomplete="off">
        <input type="range" aria-label=""><p class="note" id="${id}-note"></p>`;
    }
    row.insertAdjacentHTML("beforeend", `<p class="fault" id="${id}-fault" role="alert"></p>`);
    const [first, range] = row.querySelectorAll("input, select");
    first.setAttribute("aria-describedby", `${id}-fault ${id}-note`);
    const [fault, note] = [".fault", ".note"].map((name) => row.querySelector(name));
    const parts = { row, first, range, fault, note, edited: false };
    row.querySelector("label").textContent = of.label;
    first.addEventListener("change", () => {
      parts.edited = false;
      ask(`move ${of.key}`, first.type === "checkbox" ? first.checked : first.value);
    });
    if (range) {
      range.setAttribute("aria-label", `${of.label}, slider`);
      first.addEventListener("input", () => (parts.edited = true));
      first.addEventListener("keydown", (event) => {
        if (event.key === "Enter") event.preventDefault(); // which would send the form
        if (event.key === "Enter" && parts.edited) first.dispatchEvent(new Event("change"));
      });
      range.addEventListener("input", () => {
        first.value = `${range.value} ${range.dataset.unit}`.trim();
        ask(`move ${of.key}`, Number(range.value));
      });
    }
    return parts;
  }

  function show(of) {
    const { first, range, note, edited } = fields.get(of.key);
    tell(of.key, "");
    if ("choice" in of) {
      const options = of.options.map(([value, text]) => new Option(text, value));
      first.replaceChildren(...options);
      first.value = of.choice;
    } else if ("on" in of) {
      first.checked = of.on;
    } else {
      if (!edited) first.value = of.text;
      range.dataset.unit = of.unit;
      range.min = of.least;
      range.max = of.most;
      range.step = of.step;
      // Where more moves of it wait, it is ahead of what is said of it here.
      if (!waiting.has(`move ${of.key}`)) range.value = of.value;
      range.setAttribute("aria-valuetext", of.text);
      note.textContent = of.note;
    }
  }

  function tell(key, text) {
    const parts = fields.get(key);
    if (!parts) return false;
    parts.fault.textContent = text;
    if (text) parts.first.setAttribute("aria-invalid", "true");
    else parts.first.removeAttribute("aria-invalid");
    return true;
  }

  function inputs(all) {
    const form = one("form");
    const keys = all.map((of) => of.key);
    if (keys.join() !== [...fields.keys()].join()) {
      fields.clear();
      all.forEach((of) => fields.set(of.key, input(of)));
      form.replaceChildren(...[...fields.values()].map((parts) => parts.row));
    }
    all.forEach(show);
  }

  function pinned(names) {
    const rows = names.map((name) => {
      const row = document.createElement("li");
      row.append(name);
      for (const [what, text] of [["take", "Move"], ["unpin", "Take off"]]) {
        const button = document.createElement("button");
        button.type = "button";
        button.textContent = text;
        button.setAttribute("aria-label", `${text}: ${name}`);
        button.addEventListener("click", () => ask(what, name));
        row.append(" ", button);
      }
      return row;
    });
    one(".pins ul").replaceChildren(...rows);
  }

  function fill(name, content) {
    const place = slot(name);
    place.toggleAttribute("data-empty", content === null);
    mark(name, "");
    if (content === null) return;
    if (typeof content === "string") {
      place.querySelector(".content").innerHTML = content;
    } else {
      const image = place.querySelector("img");
      image.hidden = !content.src;
      image.src = content.src ?? "";
      image.alt = content.alt ?? "";
      place.querySelector("figcaption").textContent = content.caption ?? content.text;
      place.querySelector("details").open ||= !content.src;
    }
  }

  function mark(name, text) {
    const place = slot(name);
    place.toggleAttribute("data-stale", text !== "");
    place.querySelector(".mark").textContent = text;
  }

  function save({ name, type, data }) {
    const bytes = Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0));
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([bytes], { type }));
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  }

  function got(part) {
    const late = part.number !== undefined && part.number !== accepted;
    if (part.answers !== undefined) {
      asking = false;
      if (part.inputs) {
        accepted = part.answers;
        if (part.stale) {
          for (const name of SLOTS) if (!slot(name).hasAttribute("data-empty")) mark(name, part.stale);
        }
        root.dataset.accepted = accepted;
      }
    } else if (late) {
      return;
    }
    if (part.title !== undefined) one("h1").textContent = document.title = part.title;
    for (const name of ["held", "caution", "status", "say", "working"])
      if (part[name] !== undefined) one(`#${name}`).textContent = part[name];
    if (part.inputs) inputs(part.inputs);
    if (part.pinned) pinned(part.pinned);
    if (part.wrong && !tell(part.wrong.key, part.wrong.text)) one("#say").textContent = part.wrong.text;
    for (const name of SLOTS) if (part[name] !== undefined) fill(name, part[name]);
    if (part.file) save(part.file);
    if (part.stage) {
      root.dataset.stage = part.stage;
      performance.mark(`${part.stage} ${accepted}`);
    }
    next();
  }

  root.addEventListener("submit", (event) => event.preventDefault());
  for (const button of root.querySelectorAll("[data-do]"))
    button.addEventListener("click", () => ask(button.dataset.do, null));
  for (const box of root.querySelectorAll("[data-ask]"))
    box.addEventListener("change", () => ask(box.dataset.ask, box.checked));
  model.on("msg:custom", (event) => got(event.data ?? event));
  view.model.document.on_event("connection_lost", () => {
    one("#say").textContent = "The page is not served any more: what it shows is of its last answer.";
  });
  ask("hello", null);
  return root;
}
