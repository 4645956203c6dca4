/* The finder. The search stands in the address; the reader's position only in this page's memory. */

"use strict";

(() => {
  const { wordsOf, fill, status, statusWords, tell } = tidetable;
  const form = document.getElementById("finder");
  const find = (id) => document.getElementById(`finder-${id}`);
  const words = JSON.parse(find("words").dataset.words);
  const near = find("near"), said = find("said"), results = find("results"), more = find("more"), all = document.getElementById("all");
  const list = results.querySelector("ol");
  // Results shown at a time.
  const ROUND = 20;
  const ACCESS = ["open", "step_free", "drive_up", "transit"];
  let data = null, here = null;

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

  const bare = (text) => folded(text).replace(/[^\p{L}\p{N}]+/gu, "");

  /** The town, else the county, that somebody means by its name or code: `sc 104` is `SC-104`, `Millrace, SC-104` names one twice. */
  function spotOf(text) {
    const known = [...data.towns, ...data.areas].flatMap((each) => [each.name, ...(each.codes ?? [])].map((name) => [bare(name), each]));
    for (const end of ["$", ""]) for (const part of [text, ...text.split(",")].map(bare).filter(Boolean)) {
      const found = known.find(([name]) => (name + end).startsWith(part + end));
      if (found) return found[1];
    }
    return null;
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

  /** An event has hours of its own, or none that are known; everything else those of its door. */
  const hoursOf = (place, [ask, , , , own]) => (data.asks[ask].kind === "go" ? own : place.hours);
  const openAt = (place, take, now) => status(hoursOf(place, take), now, Date.parse(take[1]), Date.parse(take[2]));

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

  /** When a take is over (ms). */
  const endOf = ([ask, , last]) => Date.parse(last || (data.asks[ask].ends ?? "")) || Infinity;

  function answer(query, spot) {
    const now = Date.now();
    const helping = query.get("side") === "help";
    const found = [];
    for (const place of helping ? data.help : data.places) {
      const takes = place.takes.filter((take) => endOf(take) > now && wanted(query, data.asks[take[0]]));
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
      if (ask.kind !== "get help" || placed.has(index) || only || endOf([index]) <= now) return;
      if (county && !ask.counties?.some((each) => isIn(county, each))) return;
      found.push({ place: null, takes: [[index, "", "", ""]], away: Infinity });
    });
    return found;
  }

  function askRow([index, from, last, lastWords, own, ownWords], place, now) {
    const ask = data.asks[index];
    const row = element("li");
    if (from) row.dataset.from = from;
    if (last || ask.ends) row.dataset.end = last || ask.ends;
    const title = element("p", "", "what");
    const to = link(at(ask.address), ask.title);
    if (ask.language) to.lang = ask.language;
    title.append(element("span", words.kinds[ask.kind], "kind"), " ", to);
    const side = element("div"), when = element("div", "", "when");
    if (ask.opens && Date.parse(ask.opens) > now) {
      const opens = element("p", ask.opens_words, "opens");
      opens.dataset.end = ask.opens;
      when.append(opens);
    }
    const until = element("p", ask.until);
    if (ask.ends) until.dataset.left = ask.ends;
    when.append(until);
    if (ask.phone) side.append(around(words.call, phoneLink(ask.phone)));
    side.append(title);
    for (const text of [ask.organizer, ask.who_for, ask.accepts?.join("; ")]) if (text) side.append(element("p", text));
    if (own) {
      const hours = element("p", ownWords);
      hours.dataset.hours = own;
      side.append(hours);
    }
    if (place && last && last !== ask.ends) side.append(element("p", fill(words.last, { moment: lastWords }), "last"));
    row.append(when, side);
    return row;
  }

  const sooner = (one, other) => (Date.parse(one) <= Date.parse(other) ? one : other);

  function card({ place, takes, ofTown, away }) {
    const now = Date.now();
    const item = element("li");
    const rows = element("ul", "", "tide");
    rows.append(...takes.map((take) => askRow(take, place, now)));
    if (!place) {
      if (rows.firstChild.dataset.end) item.dataset.end = rows.firstChild.dataset.end;
      item.append(rows);
      return item;
    }
    item.className = "door";
    item.dataset.end = takes.map(([, , last]) => last).reduce((one, other) => (sooner(one, other) === one ? other : one));
    const name = element("h3");
    name.append(place.page ? link(at(place.page), place.name) : place.name);
    item.append(name);
    if (away < Infinity) {
      const distance = fill(words.distance, { distance: number(away / words.unit) });
      item.append(element("p", ofTown ? fill(words.of_town, { distance, town: place.town }) : distance, "away"));
    }
    const county = data.counties[place.county];
    const address = element("p", [place.street, place.town].filter(Boolean).join(", "));
    if (place.code) address.append(" ", element("span", place.code, "one"));
    address.append(", ");
    if (county) address.append(link(at(county[1]), county[0]));
    if (place.withheld) address.append(`. ${words.withheld}`);
    const hours = element("p", "", "hours");
    place.lines.forEach((line, index) => hours.append(...(index ? [element("br"), line] : [line])));
    const atDoor = takes.filter((take) => data.asks[take[0]].kind !== "go");
    if (place.hours && atDoor.length) {
      hours.dataset.hours = place.hours;
      // Open for anything is open: the door counts from the first of its windows on.
      if (atDoor.every((take) => take[1])) item.dataset.from = atDoor.map((take) => take[1]).reduce(sooner);
    }
    const access = element("div", "", "access");
    // Of a place without a page only its story speaks.
    const told = [[place.said, place.language], [place.note, place.page ? "" : place.language], [place.step_free && words.step_free], [place.drive_up && words.drive_up],
      [place.transit && fill(words.transit, { words: place.transit })]];
    for (const [text, language] of told) {
      if (text) access.append(element("p", text));
      if (text && language) access.lastChild.lang = language;
    }
    if (place.phone) access.append(around(words.call, phoneLink(place.phone)));
    item.append(address, hours, access, rows);
    return item;
  }

  // What is found and not shown yet; how to say how much is found.
  let rest = [], tale = null;

  function say(text) {
    if (said.textContent !== text) said.textContent = text;
  }

  function draw() {
    const now = Date.now();
    // What ended while it waited is not shown any more.
    rest = rest.map((each) => ({ ...each, takes: each.takes.filter((take) => endOf(take) > now) })).filter(({ takes }) => takes.length);
    list.append(...rest.splice(0, ROUND).map(card));
    tell(now);
    count();
  }

  /** Says how much is found and how much of it is shown, as it is now: what ends leaves the list. */
  function count() {
    const seen = list.querySelectorAll(":scope > :not(.held)").length;
    if (!seen && rest.length) return draw();
    const found = seen + rest.length;
    more.hidden = !rest.length;
    results.hidden = !list.children.length;
    if (!found) all.hidden = false;
    const shown = rest.length ? ` ${fill(words.shown, { count: number(seen) })}` : "";
    return say(found ? tale(number(found)) + shown : words.found_none);
  }

  /** Reads the form and shows what fits; the whole list comes back when nothing is asked. */
  function show() {
    const query = search();
    // A county that was typed counts like one that was chosen.
    const typed = query.get("near");
    const meant = typed ? spotOf(typed) : null;
    if (typed) here = null;
    const spot = meant?.at ?? here;
    if (meant?.key) query.set("area", meant.key);
    for (const field of form.querySelectorAll(".giving")) field.hidden = query.get("side") === "help";
    const isIdle = !query.toString() && !here;
    all.hidden = !isIdle;
    results.hidden = true;
    tale = null;
    list.replaceChildren();
    if (isIdle) return say("");
    if (typed && !meant) {
      all.hidden = false;
      return say(fill(words.unknown_spot, { spot: typed }));
    }
    tale = (count) => fill(spot ? words.found_near : meant ? words.found_in : words.found, { count, spot: meant?.name ?? words.here });
    rest = answer(query, spot);
    return draw();
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
    const failed = said.textContent;
    for (const part of parts) part.hidden = false;
    say("");
    try {
      const answered = await fetch(form.dataset.places);
      if (!answered.ok) throw answered;
      data = await answered.json();
    } catch {
      for (const part of parts) part.hidden = true;
      return say(failed);
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
      const next = list.children.length;
      draw();
      list.children[next]?.querySelector("a")?.focus();
    });
    addEventListener("popstate", () => {
      write(new URLSearchParams(location.search));
      show();
    });
    // What is left of a result that ended under its reader changes inside.
    new MutationObserver(() => tale && count()).observe(list, { childList: true, subtree: true });
    write(new URLSearchParams(location.search));
    show();
    // It answers from here on.
    form.dataset.ready = "";
  }

  begin();
  // So that it can be checked.
  form.metres = metres;
})();
