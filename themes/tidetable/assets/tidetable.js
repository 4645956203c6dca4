/* What only a page that knows the present can say. In the station's zone; without it every page still says until when. */

"use strict";

const tidetable = (() => {
  const MINUTE = 60_000;
  // A day in minutes.
  const DAY = 1440;
  // Days in which a weekday's name says which day is meant.
  const LOOK_AHEAD = 7;
  // Days within which a fifth weekday comes again.
  const MONTHS_AHEAD = 63;
  const blocks = new WeakMap();

  /** The words around an element: its article's where that speaks another language than the page, else the page's. */
  function wordsOf(element) {
    const block = element.closest("article")?.querySelector("template.words") ?? document.getElementById("words");
    if (!blocks.has(block)) blocks.set(block, { ...JSON.parse(block.dataset.words), lang: block.closest("[lang]").lang });
    return blocks.get(block);
  }

  const fill = (form, values) => form.replace(/\{(\w+)\}/g, (_, name) => values[name]);
  const plain = (element) => element.textContent.replace(/\s+/g, " ").trim();

  // --- the station's wall clock ---

  const { zone } = wordsOf(document.body);
  let local = null;
  try {
    const shape = { timeZone: zone, hourCycle: "h23", year: "numeric", month: "numeric", day: "numeric", hour: "numeric", minute: "numeric" };
    local = new Intl.DateTimeFormat("en-US", shape);
  } catch {
    // A phone that does not know the zone goes by the offsets that the page's instants carry.
  }

  /** How far the wall clock is ahead of UTC (ms), by the page's instant that is nearest. */
  function offsetNear(instant) {
    let best = 0, nearest = Infinity;
    for (const { dateTime } of document.querySelectorAll("time[datetime*=T]")) {
      const at = Date.parse(dateTime);
      if (Math.abs(at - instant) < nearest) {
        nearest = Math.abs(at - instant);
        best = Date.parse(`${dateTime.slice(0, 19)}Z`) - at;
      }
    }
    return best;
  }

  /** An instant (ms) as the station's wall time: days since 1970-01-01, and minutes of that day. */
  function wall(instant) {
    let moved = instant;
    if (local) {
      const part = {};
      for (const { type, value } of local.formatToParts(instant)) part[type] = +value;
      moved = Date.UTC(part.year, part.month - 1, part.day, part.hour, part.minute);
    } else moved += offsetNear(instant);
    const minutes = Math.floor(moved / MINUTE);
    return { day: Math.floor(minutes / DAY), minute: minutes % DAY };
  }

  function clock(minute, words) {
    const at = minute % DAY;
    if (at % 720 === 0) return at ? words.noon : words.midnight;
    const hour = Math.floor(at / 60);
    const values = { hour: hour % 12 || 12, minutes: String(at % 60).padStart(2, "0") };
    return fill(hour < 12 ? words.am : words.pm, { clock: fill(at % 60 ? words.minutes : words.hour, values) });
  }

  /** How long is left until an end; empty when that is more than a week or over. */
  function left(end, now, words) {
    const last = wall(end);
    // An end at 00:00 is the end of the day before.
    const days = last.day - (last.minute ? 0 : 1) - wall(now).day;
    if (now >= end || days < 0 || days > LOOK_AHEAD) return "";
    if (days > 1) return words.days[days];
    if (days) return words.tomorrow;
    return last.minute ? fill(words.today_at, { clock: clock(last.minute, words) }) : words.today;
  }

  // --- opening hours: `2026-12-24:;01234:540-1020;5/2,4:600-840` is a closed day, weekdays
  // (Monday 0), weekdays in some weeks of the month; ranges in minutes. Days with hours of their own come first. ---

  function rangesOn(code, day) {
    const date = new Date(day * DAY * MINUTE);
    const iso = date.toISOString().slice(0, 10);
    const nth = Math.ceil(date.getUTCDate() / 7);
    const isLast = new Date((day + 7) * DAY * MINUTE).getUTCMonth() !== date.getUTCMonth();
    const found = [];
    for (const rule of code.split(";")) {
      const [when, written] = rule.split(":");
      const ranges = written ? written.split(",").map((range) => range.split("-").map(Number)) : [];
      // A day with hours of its own.
      if (when === iso) return ranges;
      const [days, weeks] = when.split("/");
      const inWeek = !weeks || weeks.split(",").some((week) => (week === "-1" ? isLast : Number(week) === nth));
      if (!days.includes("-") && days.includes((day + 3) % 7) && inWeek) found.push(...ranges);
    }
    return found.sort((one, other) => one[0] - other[0]);
  }

  /** Whether a door is open: {open, until} or {open: false, opens}, as minutes from `now`; null when nothing is known of
      the next week (or months), before `from` or when the last chance `end` comes first (both ms). */
  function status(code, now, from, end) {
    if (!code || now < from || now >= end) return null;
    const here = wall(now);
    const all = [];
    const reach = code.includes("/") ? MONTHS_AHEAD : LOOK_AHEAD;
    for (let ahead = -1; ahead <= reach + 1; ahead++) {
      const base = ahead * DAY - here.minute;
      for (const [start, stop] of rangesOn(code, here.day + ahead)) all.push([base + start, base + stop]);
    }
    const next = all.find(([, stop]) => stop > 0);
    if (!next) return null;
    // By the clock on the wall, like the hours: clocks may change before the last chance.
    const last = end ? wall(end) : { day: Infinity, minute: 0 };
    const most = (last.day - here.day) * DAY + last.minute - here.minute;
    if (next[0] > 0) return next[0] < most && (here.minute + next[0]) / DAY < reach ? { open: false, opens: next[0] } : null;
    let until = next[1];
    for (const [start, stop] of all) if (start <= until) until = Math.max(until, stop);
    return { open: true, until: Math.min(until, most) };
  }

  // 1970-01-01 was a Thursday.
  const weekday = (day, words) => words.weekdays[(day + 3) % 7];

  function statusWords(found, now, words) {
    if (!found) return "";
    const here = wall(now);
    if (found.open) {
      const at = here.minute + found.until;
      // Midnight belongs to the day that ends, and so do the hours before dawn.
      const values = { clock: clock(at, words), weekday: weekday(here.day + Math.ceil(at / DAY) - 1, words) };
      return found.until > LOOK_AHEAD * DAY ? words.open : fill(at <= DAY + 360 ? words.open_until : words.open_until_on, values);
    }
    const at = here.minute + found.opens;
    const ahead = Math.floor(at / DAY);
    const day = new Date((here.day + ahead) * DAY * MINUTE);
    const date = day.toLocaleDateString(words.lang, { dateStyle: "full", timeZone: "UTC" });
    const values = { clock: clock(at, words), weekday: weekday(here.day + ahead, words), date };
    return fill([words.opens_today, words.opens_tomorrow][ahead] ?? (ahead < LOOK_AHEAD ? words.opens_on : words.opens_later), values);
  }

  // --- what is over ---

  const said = document.createElement("p");
  said.className = "unseen";
  said.setAttribute("role", "status");
  // In the language of its words.
  (document.querySelector("article[lang]") ?? document.body).append(said);

  /** Where an ask in full, a row or a place says what it is. */
  const named = (element) => element?.querySelector("h2, h3, h4, .what, .name");

  /** That something is over, in words: asks and doors bring their own. */
  const over = (element) => element.dataset.ended ?? wordsOf(element)[element.closest(".door") ? "takes_no_more" : "ended"];

  /** What to say of all that ends under a reader: a line for each ask, with its doors where they end alone. */
  function news(due) {
    const lines = {};
    for (const element of due) {
      if (!element.matches(".tag, .at-door, li:not(.door, nav *), tr")) continue;
      const title = named(element.closest(".tag") ?? element).cloneNode(true);
      title.querySelector(".kind")?.remove();
      const door = named(element.closest(".door, .at-door"));
      const line = (lines[title.querySelector("a")?.href ?? plain(title)] ??= { doors: new Set() });
      if (door) line.doors.add(plain(door));
      if (!line.whole) Object.assign(line, { title: plain(title), whole: !door, over: over(element) });
    }
    return Object.values(lines).map(({ title, doors, whole, over }) => `${[title, ...(whole ? [] : doors)].join(", ")}: ${over}`);
  }

  /** A line with its title as it was marked, where that is in another language. */
  function spoken(line, foreign) {
    const title = foreign.find((each) => each && line.startsWith(plain(each)))?.cloneNode(true);
    title?.removeAttribute("href");
    return [title ?? "", `${line.slice(title ? plain(title).length : 0)} `];
  }

  function hold(element, target) {
    element.classList.add("held");
    if (!target.matches("a")) target.tabIndex = -1;
    target.focus({ preventScroll: true });
    target.scrollIntoView({ block: "nearest" });
  }

  /** The line that something is over, and what it is in that line; a phone in its words stays a link. */
  function overLine(element) {
    const line = document.createElement("p");
    const what = document.createElement("span");
    const words = over(element);
    const phone = [...element.querySelectorAll(".tel")].find((each) => words.includes(each.textContent)) ?? "";
    const [before, after] = words.split(phone.textContent);
    what.append(...named(element).childNodes);
    line.append(what, ": ", before, phone, after ?? "");
    return [line, what];
  }

  /** An ask in full becomes the line that it ended, with one next step. */
  function endAsk(element, isHeld) {
    const [line, what] = overLine(element);
    const around = element.closest("[data-next]");
    if (around) {
      const link = document.createElement("a");
      link.href = around.dataset.next;
      link.textContent = around.dataset.nextSay;
      line.append(" ", link);
    }
    element.replaceChildren(line);
    element.classList.replace("tag", "ended");
    if (isHeld) hold(element, what);
  }

  /** A row leaves its list. One that the reader is in stays as a line of its name until the page is left. */
  function endPart(element, isHeld) {
    if (!isHeld) return element.remove();
    // Of a link among others, the page it leads to says the rest.
    if (!named(element)) return element.classList.add("held");
    const [line, what] = overLine(element);
    const cell = document.createElement("td");
    cell.colSpan = 2;
    cell.append(line);
    element.replaceChildren(element.matches("tr") ? cell : line);
    return hold(element, what.querySelector("a") ?? line);
  }

  const LIVE = "[data-end]:not(span, p), .held";

  function tidy() {
    for (const list of document.querySelectorAll("[data-list]")) {
      if (list.querySelector(LIVE)) continue;
      const none = document.createElement("p");
      none.textContent = list.dataset.list || wordsOf(list).none;
      list.replaceWith(none);
    }
    for (const group of document.querySelectorAll("[data-group]")) if (!group.querySelector(LIVE)) group.remove();
    for (const link of document.querySelectorAll('.jump a[href^="#"]')) {
      if (document.getElementById(link.hash.slice(1))) continue;
      const entry = link.closest("li");
      (entry.querySelectorAll("a").length > 1 ? link : entry).remove();
    }
  }

  /** What was to come at `now` is open: it says so, and goes to the list of what is, unless the reader is in it. */
  function open(now) {
    let next = Infinity, moved = false;
    for (const element of document.querySelectorAll("[data-opens]")) {
      const at = Date.parse(element.dataset.opens);
      if (at > now) {
        next = Math.min(next, at);
        continue;
      }
      delete element.dataset.opens;
      const [before, after] = wordsOf(element).opened.split("{moment}");
      element.replaceChildren(before, element.querySelector("time"), after);
      element.className = "opened";
      const row = element.closest("[data-to] > li");
      const list = row && document.getElementById(row.parentElement.dataset.to);
      if (!list || row.contains(document.activeElement)) continue;
      const ends = (each) => Date.parse(each.dataset.end) || Infinity;
      list.insertBefore(row, [...list.children].find((each) => ends(each) > ends(row)) ?? null);
      moved = true;
    }
    if (moved) tidy();
    return next;
  }

  /** Ends what is over at `now` (ms); gives the next instant at which something is. */
  function end(now, isFirst) {
    let next = Infinity;
    const due = [];
    for (const element of document.querySelectorAll("[data-end]")) {
      const at = Date.parse(element.dataset.end);
      if (at <= now) due.push(element);
      else next = Math.min(next, at);
    }
    if (!due.length) return next;
    const lines = isFirst ? [] : news(due);
    const foreign = due.map((element) => element.querySelector("[lang]"));
    for (const element of due) {
      // It went with what it stood in.
      if (!element.isConnected) continue;
      const isHeld = element.contains(document.activeElement);
      delete element.dataset.end;
      if (element.matches(".tag")) endAsk(element, isHeld);
      else endPart(element, isHeld);
    }
    tidy();
    if (lines.length) said.replaceChildren(...lines.flatMap((line) => spoken(line, foreign)));
    return next;
  }

  /** Counts that change at known instants: `instant|words||instant|words`; without words from where nothing is known. */
  function count(now) {
    for (const element of document.querySelectorAll("[data-then]")) {
      for (const change of element.dataset.then.split("||")) {
        const [at, words] = change.split("|");
        if (Date.parse(at) <= now && element.textContent !== words) element.textContent = words;
      }
    }
  }

  // --- beside what the page says ---

  function beside(element, text) {
    let note = element.querySelector(":scope > .now");
    if (!note) {
      if (!text) return;
      note = document.createElement("span");
      note.className = "now";
      element.append(" ", note);
    }
    if (note.textContent !== text) note.textContent = text;
  }

  function tell(now) {
    for (const element of document.querySelectorAll("[data-left]")) {
      const written = element.dataset.left || element.querySelector("time")?.dateTime;
      if (written) beside(element, left(Date.parse(written), now, wordsOf(element)));
    }
    for (const element of document.querySelectorAll("[data-hours]")) {
      const from = Date.parse(element.closest("[data-from]")?.dataset.from);
      const until = Date.parse(element.dataset.shuts ?? element.closest("[data-end]")?.dataset.end);
      beside(element, statusWords(status(element.dataset.hours, now, from, until), now, wordsOf(element)));
    }
  }

  // --- times that seek the video ---

  function seekable() {
    const video = document.querySelector("video");
    if (!video) return;
    for (const element of document.querySelectorAll("[data-seek]")) {
      const button = document.createElement("button");
      const time = plain(element);
      button.type = "button";
      button.className = "seek";
      button.textContent = time;
      button.setAttribute("aria-label", fill(wordsOf(element).seek, { time }));
      button.addEventListener("click", () => {
        video.currentTime = Number(element.dataset.seek);
        video.scrollIntoView({ block: "nearest" });
        // A line that fails shows itself in the player.
        video.play()?.catch(() => {});
      });
      element.replaceChildren(button);
    }
  }

  let timer = 0;
  function tick(isFirst) {
    const now = Date.now();
    // What has opened is in its list before that is seen to be empty.
    const next = Math.min(open(now), end(now, isFirst === true));
    count(now);
    tell(now);
    clearTimeout(timer);
    timer = setTimeout(tick, Math.max(0, Math.min(next - now, MINUTE / 2)));
  }

  seekable();
  tick(true);
  addEventListener("pageshow", tick);
  // Timers sleep with the phone.
  document.addEventListener("visibilitychange", tick);
  return { wordsOf, fill, tell, left, status, statusWords };
})();
