/* The form with script: checks while somebody types, presses buttons without leaving the page, and sets positions on the chart.
   Everything it does is also done by the form's own buttons. */

"use strict";

{
  const PAUSE = 600; // milliseconds without a key before a check is asked for
  let isChanged = false;
  let isSending = false;
  let timer = 0;
  let asking = null;

  const form = () => document.getElementById("write");
  const idOf = (name) => `f-${name.replaceAll("/", "-")}`;

  // --- checking as it is typed ---

  async function check() {
    const address = form().dataset.check;
    if (!address) return;
    asking?.abort();
    asking = new AbortController();
    const sent = new FormData(form());
    sent.delete("picture");
    sent.set("do", "check");
    try {
      const response = await fetch(address, { method: "POST", body: sent, signal: asking.signal });
      if (response.ok) tell(await response.json());
      else if (response.status === 403) say("The preview was started anew. Press Check or Save to go on with this form.");
    } catch (error) {
      if (error.name !== "AbortError") say("The check did not answer. Is the preview still running?");
    }
  }

  function tell(found) {
    for (const place of form().querySelectorAll(".told")) {
      const name = place.dataset.name ?? place.closest("[data-name]")?.dataset.name;
      const words = found.fields[name] ?? "";
      if (place.innerHTML.trim() !== words.trim()) place.innerHTML = words;
      if (words) for (let fold = place.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    }
    for (const control of form().querySelectorAll("[aria-describedby]")) {
      const name = control.closest("[data-name]")?.dataset.name;
      if (found.wrong.includes(name) && idOf(name) === control.id) control.setAttribute("aria-invalid", "true");
      else control.removeAttribute("aria-invalid");
    }
    document.getElementById("all-found").innerHTML = found.all;
    const said = document.getElementById("said");
    if (said.textContent !== found.said) {
      said.textContent = found.said;
      say(found.said);
    }
  }

  /** Read out politely, and only when there is something new to say. */
  function say(words) {
    document.getElementById("news").textContent = words;
  }

  // --- buttons: the page stays until there is an answer, and with every word where the answer is no form ---

  async function press(button) {
    const sent = new FormData(form());
    sent.set("do", button.value);
    clearTimeout(timer);
    asking?.abort();
    document.getElementById("unanswered")?.remove();
    let response, text;
    try {
      response = await fetch(form().action, { method: "POST", body: sent });
      text = await response.text();
    } catch {
      return refuse(button, "The desk did not answer. All that you wrote is still here: keep this page open, start the preview again, then press the button once more.");
    }
    if (response.redirected && response.ok) {
      isChanged = false;
      location.assign(response.url);
      return new Promise(() => {}); // no other press, until the page has gone
    }
    const page = new DOMParser().parseFromString(text, "text/html");
    if (!page.getElementById("write"))
      return refuse(button, [...(page.querySelector("main") ?? page.body).querySelectorAll("p, pre")].map((each) => each.textContent.trim()).join(" ") || page.body.textContent.trim());
    take(page, button);
  }

  /** Says beside a button why nothing came of it. */
  function refuse(button, words) {
    const box = document.createElement("div");
    box.id = "unanswered";
    box.className = "trouble";
    box.setAttribute("role", "alert");
    box.append(Object.assign(document.createElement("p"), { textContent: words }));
    button.closest(".buttons, .halves, .upload").after(box);
    box.scrollIntoView({ block: "nearest" });
  }

  /** Puts the form of an answer in the place of this page's. */
  function take(page, button) {
    // The focus is moved below; browsers give it to such elements only in new pages.
    for (const each of page.querySelectorAll("[autofocus]")) each.removeAttribute("autofocus");
    const folds = new Set([...form().querySelectorAll("details[open] > summary[id]")].map((each) => each.id));
    document.title = page.title;
    document.querySelector("main").replaceWith(page.querySelector("main"));
    for (const id of folds) {
      const fold = document.getElementById(id)?.closest("details");
      if (fold) fold.open = true;
    }
    const news = document.getElementById("news");
    const words = news.textContent;
    news.textContent = "";
    begin();
    const next = document.querySelector("[data-focus]") ?? [...form().querySelectorAll("button")].find((each) => each.value === button.value) ?? form().querySelector("button");
    for (let fold = next?.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    next?.focus();
    // A region must be there before it is filled, to be read out.
    const isTrouble = document.querySelector("main .trouble") !== null; // says itself what came of it
    setTimeout(() => say(words || (!isTrouble && document.getElementById("said")?.textContent) || ""), 100);
  }

  // --- kinds of asks ---

  function showKind(select) {
    for (const field of select.closest(".card").querySelectorAll(".field[data-kinds]")) {
      const control = field.querySelector("input:not([type=hidden]), textarea, select");
      const isFilled = [...field.querySelectorAll("input:not([type=hidden], [type=checkbox]), textarea")].some((each) => each.value) || field.querySelector(":checked:not(option)");
      if (control && field.closest(".card") === select.closest(".card"))
        field.hidden = Boolean(select.value) && !field.dataset.kinds.split(",").includes(select.value) && !isFilled;
    }
  }

  // --- the chart ---

  const NEAR = 24; // CSS pixels from a dot at which it is still meant

  function charts() {
    const template = document.getElementById("chart");
    if (!template) return;
    for (const place of document.querySelectorAll(".chart-place:empty")) {
      place.append(template.content.cloneNode(true));
      place.hidden = false;
      if (place.matches(".chooses")) choosing(place, place.closest(".field").querySelector("input"));
      else setting(place, ...place.closest(".position").querySelectorAll("input"));
    }
  }

  function put(input, text) {
    input.value = text;
    input.dispatchEvent(new Event("input", { bubbles: true }));
  }

  function ring(drawing, at) {
    const mark = drawing.querySelector(".mark");
    mark.toggleAttribute("hidden", !at);
    if (at) [["cx", at.x], ["cy", at.y]].forEach(([name, value]) => mark.setAttribute(name, value));
  }

  /** Names a shared place by its dot. */
  function choosing(place, input) {
    const drawing = place.querySelector("svg");
    const dots = [...drawing.querySelectorAll(".place")];
    const middle = (dot) => ({ x: Number(dot.getAttribute("cx")), y: Number(dot.getAttribute("cy")) });
    const show = () => {
      const dot = dots.find((each) => each.dataset.id === input.value.trim());
      ring(drawing, dot && middle(dot));
    };
    drawing.addEventListener("click", ({ clientX, clientY }) => {
      const far = (dot) => {
        const box = dot.getBoundingClientRect();
        return Math.hypot(box.x + box.width / 2 - clientX, box.y + box.height / 2 - clientY);
      };
      const nearest = dots.toSorted((one, other) => far(one) - far(other))[0];
      if (!nearest || far(nearest) > NEAR) return;
      put(input, nearest.dataset.id);
      say(`${nearest.textContent} is chosen.`);
    });
    input.addEventListener("input", show);
    show();
  }

  /** Sets a position by a press. */
  function setting(place, latitude, longitude) {
    const drawing = place.querySelector("svg");
    const { west, north, across, down, margin } = Object.fromEntries(Object.entries(drawing.dataset).map(([name, text]) => [name, Number(text)]));
    const show = () => {
      const [y, x] = [latitude.value, longitude.value].map((text) => (text.trim() ? Number(text) : NaN));
      ring(drawing, Number.isFinite(x) && Number.isFinite(y) && { x: margin + (x - west) * across, y: margin + (north - y) * down });
    };
    drawing.addEventListener("click", ({ clientX, clientY }) => {
      const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(drawing.getScreenCTM().inverse());
      longitude.value = (west + (x - margin) / across).toFixed(4);
      put(latitude, (north - (y - margin) / down).toFixed(4));
      say(`The position is ${latitude.value}, ${longitude.value}.`);
    });
    latitude.addEventListener("input", show);
    longitude.addEventListener("input", show);
    show();
  }

  // --- all of it ---

  function begin() {
    charts();
    form().addEventListener("input", ({ target }) => {
      isChanged = true;
      if (/\/kind$/.test(target.name)) showKind(target);
      clearTimeout(timer);
      timer = setTimeout(check, PAUSE);
    });
    form().addEventListener("submit", (event) => {
      event.preventDefault();
      if (isSending) return say("The desk has not answered yet.");
      isSending = true;
      press(event.submitter ?? form().querySelector("button")).finally(() => (isSending = false));
    });
  }

  addEventListener("beforeunload", (event) => isChanged && event.preventDefault());
  addEventListener("pageshow", () => (isSending = false)); // somebody went back to it
  begin();
}
