/* The finder. The search stands in the address; the reader's position only in this page's memory. */

"use strict";

(() => {
  const { fill, status, tell } = tidetable;
  const form = document.getElementById("finder");
  const find = (id) => document.getElementById(`finder-${id}`);
  const words = JSON.parse(find("words").dataset.words);
  const near = find("near"), said = find("said"), results = find("results"), more = find("more"), all = document.getElementById("all");
  const list = results.querySelector("ol");
  // Results shown at a time.
  const ROUND = 20;
  // Places named of those that somebody may mean.
  const NAMED = 6;
  const ACCESS = ["open", "step_free", "drive_up", "transit"];
  let data = null, here = null;

  const folded = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().trim();

  /** Metres on the WGS 84 ellipsoid: the chord, lengthened as much as that between the upward directions on a unit sphere.
      Good to some 20 m over 4,000 km, and to millimetres over 500 (tried against a geodesic library). */
  function metres(...spots) {
    const SQUARED = 0.00669437999, { sin, cos, hypot } = Math;
    const apart = ([one, other]) => hypot(...one.map((each, axis) => each - other[axis]));
    const upward = spots.map((spot) => {
      const [north, east] = spot.map((degrees) => (degrees * Math.PI) / 180);
      return [cos(north) * cos(east), cos(north) * sin(east), sin(north)];
    });
    const half = apart(upward) / 2;
    const chord = apart(upward.map(([x, y, z]) => [x, y, z * (1 - SQUARED)].map((each) => (each * 6378137) / Math.sqrt(1 - SQUARED * z * z))));
    return half && (chord * Math.asin(half)) / half;
  }

  const number = (value) => value.toLocaleString(document.documentElement.lang, { maximumFractionDigits: value < 10 ? 1 : 0 });

  function element(tag, text, className, language) {
    const made = document.createElement(tag);
    if (text) made.textContent = text;
    if (className) made.className = className;
    if (language) made.lang = language;
    return made;
  }

  function link(href, ...rest) {
    const made = element("a", ...rest);
    made.href = href;
    return made;
  }

  function call(phone) {
    const line = element("p"), [before, after] = words.call.split("{phone}");
    line.append(before, link(`tel:${phone.replace(/[^0-9+]/g, "")}`, phone, "tel"), after);
    return line;
  }

  const bare = (text) => folded(text).replace(/[^\p{L}\p{N}]+/gu, "");

  /** The towns, else counties, that somebody may mean by a name or code, or its beginning: `sc 104` is `SC-104`, `Millrace, SC-104` names one twice. */
  function spotsOf(text) {
    for (const end of ["$", ""]) for (const part of [text, ...text.split(",")].map(bare).filter(Boolean)) {
      const found = [...data.towns, ...data.areas].filter(({ name, codes = [] }) => [name, ...codes].some((each) => (bare(each) + end).startsWith(part + end)));
      if (found.length) return end ? [found[0]] : found;
    }
    return [];
  }

  // --- the search and the address ---

  function search() {
    return new URLSearchParams([...new FormData(form)].filter(([, value]) => value.trim()));
  }

  /** Does what the address asks for. */
  function write() {
    const query = new URLSearchParams(location.search);
    form.reset();
    for (const [name, value] of query) {
      const field = form.elements[name];
      if (field?.type === "checkbox") field.checked = true;
      else if (field) field.value = value;
    }
    if (["what", "kind", "area", ...ACCESS].some((name) => query.get(name))) find("narrow").open = true;
    show();
  }

  function remember() {
    const query = search().toString();
    if (query !== location.search.slice(1)) history.pushState(null, "", query ? `?${query}` : location.pathname);
  }

  // --- the answer ---

  /** In the county that is asked for, if one is. */
  const isIn = (query, county) => !query.get("area") || data.counties[county]?.[1] === `counties/${query.get("area")}/`;

  function fits(query, place, takes, now) {
    if (!isIn(query, place.county)) return false;
    for (const name of ACCESS.slice(1)) if (query.get(name) && !place[name]) return false;
    if (!query.get("open")) return true;
    // An event has hours of its own, or none that are known; everything else those of its door.
    return takes.some(([ask, from, last, , own]) => status(data.asks[ask].kind === "go" ? own : place.hours, now, Date.parse(from), Date.parse(last))?.open);
  }

  function wanted(query, ask) {
    if (query.get("side")) return true;
    if (query.get("kind") && ask.kind !== query.get("kind")) return false;
    const things = folded([ask.title, ...(ask.accepts ?? [])].join(" "));
    return folded(query.get("what") ?? "").split(/\s+/).every((word) => things.includes(word.length > 3 ? word.replace(/e?s$/, "") : word));
  }

  /** When a take is over (ms). */
  const endOf = ([ask, , last]) => Date.parse(last || data.asks[ask].ends) || Infinity;

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
    const only = ACCESS.some((name) => query.get(name));
    data.asks.forEach((ask, index) => {
      if (ask.kind !== "get help" || placed.has(index) || only || endOf([index]) <= now) return;
      if (!(ask.counties ?? [""]).some((each) => isIn(query, each))) return;
      found.push({ place: null, takes: [[index]], away: Infinity });
    });
    return found;
  }

  function askRow([index, from, last, lastWords, own, ownWords], now) {
    const ask = data.asks[index];
    const row = element("li");
    if (from) row.dataset.from = from;
    const end = last || ask.ends;
    if (end) row.dataset.end = end;
    row.dataset.ended = ask.over[end === ask.ends ? 1 : 0];
    const title = element("p", "", "what");
    const kind = element("span", words.kinds[ask.kind], "kind");
    kind.append(element("span", ":", "unseen"));
    title.append(kind, " ", link("../" + ask.address, ask.title, "", ask.language));
    const side = element("div"), when = element("div", "", "when");
    for (const [text, key, moment, className] of ask.when) {
      if (Date.parse(moment) <= now) continue;
      const line = element("p", text, className);
      if (key) line.dataset[key] = moment;
      when.append(line);
    }
    if (ask.phone) side.append(call(ask.phone));
    side.append(title);
    for (const text of [ask.organizer, ask.who_for, ask.accepts?.join("; ")]) if (text) side.append(element("p", text, "", ask.language));
    if (own) {
      const hours = element("p", ownWords);
      hours.dataset.hours = own;
      side.append(hours);
    }
    if (last && last !== ask.ends) side.append(element("p", fill(words.last, { moment: lastWords }), "last"));
    row.append(when, side);
    return row;
  }

  const byTime = (one, other) => Date.parse(one) - Date.parse(other);

  function card({ place, takes, ofTown, away }) {
    const now = Date.now();
    const item = element("li");
    const rows = element("ul", "", "tide");
    rows.append(...takes.map((take) => askRow(take, now)));
    if (!place) {
      Object.assign(item.dataset, rows.firstChild.dataset);
      item.append(rows);
      return item;
    }
    item.className = "door";
    item.dataset.end = takes.map(([, , last]) => last).sort(byTime).at(-1);
    const name = element("h3");
    name.append(place.page ? link("../" + place.page, place.name) : place.name);
    item.append(name);
    if (away < Infinity) {
      const distance = fill(words.distance, { distance: number(away / words.unit) });
      item.append(element("p", ofTown ? fill(words.of_town, { distance, town: place.town }) : distance, "away"));
    }
    const county = data.counties[place.county];
    const address = element("p", [place.street, place.town].filter(Boolean).join(", "));
    if (place.code) address.append(" ", element("span", place.code, "one"));
    address.append(", ");
    if (county) address.append(link("../" + county[1], county[0]));
    if (place.withheld) address.append(`. ${words.withheld}`);
    const hours = element("p", "", "hours");
    hours.append(...place.lines.flatMap((line) => [element("br"), line]).slice(1));
    const atDoor = takes.filter((take) => data.asks[take[0]].kind !== "go");
    if (place.hours && atDoor.length) {
      hours.dataset.hours = place.hours;
      hours.dataset.shuts = atDoor.map(([, , last]) => last).sort(byTime).at(-1);
      // Open for anything is open: the door counts from the first of its windows on.
      if (atDoor.every((take) => take[1])) item.dataset.from = atDoor.map((take) => take[1]).sort(byTime)[0];
    }
    const access = element("div", "", "access");
    // Of a place without a page only its story speaks.
    const told = [[place.said, place.language], [place.note, place.page ? "" : place.language], [place.step_free && words.step_free], [place.drive_up && words.drive_up],
      [place.transit && fill(words.transit, { words: place.transit })]];
    for (const [text, language] of told) if (text) access.append(element("p", text, "", language));
    if (place.phone) access.append(call(place.phone));
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
    const spots = typed ? spotsOf(typed) : [];
    const names = [...new Set(spots.map(({ name }) => name))];
    const meant = names[1] ? null : spots[0];
    if (typed) here = null;
    const spot = meant?.at ?? here;
    if (meant?.key) query.set("area", meant.key);
    for (const field of form.querySelectorAll(".giving")) field.hidden = query.get("side") === "help";
    const isIdle = !query.toString() && !here, isMissed = typed && !meant;
    all.hidden = !isIdle && !isMissed;
    results.hidden = true;
    tale = null;
    list.replaceChildren();
    if (isIdle) return say("");
    if (isMissed) return say(fill(names.length ? words.many_spots : words.unknown_spot, { spot: typed, names: names.slice(0, NAMED).join(", ") }));
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
    addEventListener("popstate", write);
    // What is left of a result that ended under its reader changes inside.
    new MutationObserver(() => tale && count()).observe(list, { childList: true, subtree: true });
    write();
    // It answers from here on.
    form.dataset.ready = "";
  }

  begin();
  // So that it can be checked.
  form.metres = metres;
})();
