/* The finder. The search stands in the address; the reader's position only in this page's memory. */

"use strict";

(() => {
  const { wordsOf, fill, status, statusWords, tell } = tidetable;
  const form = document.getElementById("finder");
  const find = (id) => document.getElementById(`finder-${id}`);
  const words = JSON.parse(find("words").dataset.words);
  const near = find("near"), said = find("said"), results = find("results"), more = find("more"), all = document.getElementById("all");
  const list = results.querySelector("ol");
  const ROUND = 20; // results shown at a time
  const ACCESS = ["open", "step_free", "drive_up", "transit"];
  let data = null, here = null, shown = ROUND;

  const folded = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().trim();

  /** Metres on the WGS 84 ellipsoid by Lambert's formula for long lines (1942), good to tens of metres. */
  function metres([north1, east1], [north2, east2]) {
    const RADIUS = 6378137, FLAT = 1 / 298.257223563, rad = Math.PI / 180;
    const { sin, cos, sqrt, asin, atan, tan } = Math;
    const u1 = atan((1 - FLAT) * tan(north1 * rad)), u2 = atan((1 - FLAT) * tan(north2 * rad));
    const half = sqrt(sin((u2 - u1) / 2) ** 2 + cos(u1) * cos(u2) * sin(((east2 - east1) * rad) / 2) ** 2);
    const angle = 2 * asin(Math.min(1, half));
    if (!angle || half === 1) return RADIUS * angle;
    const mid = (u1 + u2) / 2, off = (u2 - u1) / 2;
    const x = (angle - sin(angle)) * ((sin(mid) * cos(off)) / cos(angle / 2)) ** 2;
    const y = (angle + sin(angle)) * ((cos(mid) * sin(off)) / sin(angle / 2)) ** 2;
    return RADIUS * (angle - (FLAT / 2) * (x + y));
  }

  const number = (value) => value.toLocaleString(document.documentElement.lang, { maximumFractionDigits: value < 10 ? 1 : 0 });

  function element(tag, text, className) {
    const made = document.createElement(tag);
    if (text) made.textContent = text;
    if (className) made.className = className;
    return made;
  }

  function link(href, text, className) {
    const made = element("a", text, className);
    made.href = href;
    return made;
  }

  const phoneLink = (number) => link(`tel:${number.replace(/[^0-9+]/g, "")}`, number, "tel");

  /** A message with an element in the place of its only parameter. */
  function around(message, made) {
    const line = element("p");
    const [before, after] = message.split(/\{\w+\}/);
    line.append(before, made, after);
    return line;
  }

  const at = (address) => `../${address}`;

  function townOf(text) {
    const sought = folded(text);
    const codes = (town) => town.codes ?? [];
    return data.towns.find((town) => folded(town.name) === sought || codes(town).some((code) => folded(code) === sought))
      ?? data.towns.find((town) => folded(town.name).startsWith(sought) || codes(town).some((code) => folded(code).startsWith(sought)));
  }

  // --- the search and the address ---

  function search() {
    const held = Object.fromEntries([...new FormData(form)].filter(([, value]) => value.trim()));
    return new URLSearchParams(held);
  }

  function write(query) {
    form.reset();
    for (const [name, value] of query) {
      const field = form.elements[name];
      if (!field) continue;
      if (field.type === "checkbox") field.checked = true;
      else field.value = value;
    }
    if (["what", "kind", "area", ...ACCESS].some((name) => query.get(name))) find("narrow").open = true;
  }

  function remember() {
    const query = search().toString();
    if (query !== location.search.slice(1)) history.pushState(null, "", query ? `?${query}` : location.pathname);
  }

  // --- the answer ---

  const isIn = (key, county) => data.counties[county]?.[1] === `counties/${key}/`;

  const openAt = (place, [, from, last], now) => status(place.hours, now, Date.parse(from), Date.parse(last));

  function fits(query, place, takes, now) {
    const county = query.get("area");
    if (county && !isIn(county, place.county)) return false;
    for (const name of ACCESS.slice(1)) if (query.get(name) && !place[name]) return false;
    if (!query.get("open")) return true;
    return takes.some((take) => openAt(place, take, now)?.open);
  }

  function wanted(query, ask) {
    if (query.get("side")) return true;
    if (query.get("kind") && ask.kind !== query.get("kind")) return false;
    const things = folded([ask.title, ...(ask.accepts ?? [])].join(" "));
    return folded(query.get("what") ?? "").split(/\s+/).every((word) => things.includes(word.length > 3 ? word.replace(/e?s$/, "") : word));
  }

  function answer(query, spot) {
    const now = Date.now();
    const helping = query.get("side") === "help";
    const found = [];
    for (const place of helping ? data.help : data.places) {
      const takes = place.takes.filter(([ask, , last]) => Date.parse(last) > now && wanted(query, data.asks[ask]));
      if (!takes.length || !fits(query, place, takes, now)) continue;
      const town = data.towns.find((each) => each.name === place.town && each.county === place.county);
      const position = place.at ?? town?.at;
      found.push({ place, takes, ofTown: !place.at || place.of_town, away: spot && position ? metres(spot, position) : Infinity });
    }
    if (spot) found.sort((one, other) => one.away - other.away || 0);
    if (!helping) return found;
    const placed = new Set(data.help.flatMap(({ takes }) => takes.map(([ask]) => ask)));
    const county = query.get("area");
    const only = ACCESS.some((name) => query.get(name));
    data.asks.forEach((ask, index) => {
      if (ask.kind !== "get help" || placed.has(index) || only || (ask.ends && Date.parse(ask.ends) <= now)) return;
      if (county && !ask.counties?.some((each) => isIn(county, each))) return;
      found.push({ place: null, takes: [[index, "", "", ""]], away: Infinity });
    });
    return found;
  }

  function askRow([index, from, last, lastWords], place, now) {
    const ask = data.asks[index];
    const row = element("li");
    if (last || ask.ends) row.dataset.end = last || ask.ends;
    const title = element("p", "", "what");
    const to = link(at(ask.address), ask.title);
    if (ask.language) to.lang = ask.language;
    title.append(element("span", words.kinds[ask.kind], "kind"), " ", to);
    const side = element("div"), when = element("div", "", "when");
    if (ask.opens && Date.parse(ask.opens) > now) when.append(element("p", ask.opens_words, "opens"));
    const until = element("p", ask.until);
    if (ask.ends) until.dataset.left = ask.ends;
    when.append(until);
    if (ask.phone) side.append(around(words.call, phoneLink(ask.phone)));
    side.append(title);
    for (const text of [ask.organizer, ask.who_for, ask.accepts?.join("; ")]) if (text) side.append(element("p", text));
    if (place && last && last !== ask.ends) side.append(element("p", fill(words.last, { moment: lastWords }), "last"));
    row.append(when, side);
    return row;
  }

  function card({ place, takes, ofTown, away }) {
    const now = Date.now();
    const item = element("li");
    const rows = element("ul", "", "tide");
    rows.append(...takes.map((take) => askRow(take, place, now)));
    if (!place) {
      item.append(rows);
      return item;
    }
    item.className = "door";
    item.dataset.end = takes.map(([, , last]) => last).reduce((one, other) => (Date.parse(one) > Date.parse(other) ? one : other));
    const name = element("h3");
    name.append(place.page ? link(at(place.page), place.name) : place.name);
    item.append(name);
    if (away < Infinity) {
      const distance = fill(words.distance, { distance: number(away / words.unit) });
      item.append(element("p", ofTown ? fill(words.of_town, { distance, town: place.town }) : distance, "away"));
    }
    const county = data.counties[place.county];
    const address = element("p", [place.street, [place.town, place.code].filter(Boolean).join(" "), ""].filter((part, index) => part || index === 2).join(", "));
    if (county) address.append(link(at(county[1]), county[0]));
    if (place.withheld) address.append(`. ${words.withheld}`);
    const hours = element("p", "", "hours");
    place.lines.forEach((line, index) => hours.append(...(index ? [element("br"), line] : [line])));
    const open = takes.map((take) => data.asks[take[0]].kind !== "go" && openAt(place, take, now)).find(Boolean);
    if (open) hours.append(" ", element("span", statusWords(open, now, wordsOf(form)), "now"));
    item.append(address, hours);
    if (place.note) item.append(element("p", place.note));
    if (place.step_free) item.append(element("p", words.step_free));
    if (place.drive_up) item.append(element("p", words.drive_up));
    if (place.transit) item.append(element("p", fill(words.transit, { words: place.transit })));
    if (place.phone) item.append(around(words.call, phoneLink(place.phone)));
    item.append(rows);
    return item;
  }

  let found = [];
  function draw(from) {
    list.append(...found.slice(from, shown).map(card));
    more.hidden = shown >= found.length;
    tell(Date.now());
  }

  function say(text) {
    said.textContent = text;
  }

  /** Reads the form and shows what fits; the whole list comes back when nothing is asked. */
  function show() {
    const query = search();
    const typed = query.get("near");
    const town = typed ? townOf(typed) : null;
    if (typed) here = null;
    const spot = town?.at ?? here;
    for (const field of form.querySelectorAll(".giving")) field.hidden = query.get("side") === "help";
    const isIdle = !query.toString() && !here;
    all.hidden = !isIdle;
    results.hidden = isIdle || Boolean(typed && !town);
    list.replaceChildren();
    if (isIdle) return say("");
    if (typed && !town) {
      all.hidden = false;
      return say(fill(words.unknown_spot, { spot: typed }));
    }
    found = answer(query, spot);
    shown = ROUND;
    draw(0);
    if (!found.length) all.hidden = false;
    results.hidden = !found.length;
    const count = number(found.length);
    return say(!found.length ? words.found_none : spot ? fill(words.found_near, { count, spot: town ? town.name : words.here }) : fill(words.found, { count }));
  }

  function update() {
    remember();
    show();
  }

  function locate() {
    say(words.locating);
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => {
        near.value = "";
        here = [coords.latitude, coords.longitude];
        update();
      },
      () => say(words.no_position),
      { timeout: 20_000 },
    );
  }

  async function begin() {
    // Out of hiding before the page is drawn, so that nothing moves; back when there is nothing to search.
    const parts = form.querySelectorAll("[hidden]");
    for (const part of parts) part.hidden = false;
    try {
      const answered = await fetch(form.dataset.places);
      if (!answered.ok) throw new Error(answered.statusText);
      data = await answered.json();
    } catch {
      for (const part of parts) part.hidden = true;
      if (location.search) say(words.no_data);
      return;
    }
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      update();
      if (!results.hidden) results.querySelector("h2").focus();
    });
    form.addEventListener("change", (event) => event.target !== near && update());
    find("clear").addEventListener("click", () => {
      here = null;
      form.reset();
      update();
      near.focus();
    });
    find("here").addEventListener("click", locate);
    more.addEventListener("click", () => {
      const first = shown;
      shown += ROUND;
      draw(first);
      list.children[first]?.querySelector("a").focus();
    });
    addEventListener("popstate", () => {
      write(new URLSearchParams(location.search));
      show();
    });
    write(new URLSearchParams(location.search));
    show();
    form.dataset.ready = ""; // it answers from here on
  }

  begin();
  form.metres = metres; // so that it can be checked
})();
