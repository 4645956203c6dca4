/* The archive's search. The search stands in the address; nothing is fetched before a reader asks. The files it reads are
   described in sitegen/typeset/searchdata.py. */

"use strict";

(() => {
  const { fill, tell } = tidetable;
  const form = document.getElementById("search");
  const { q: field, county, year } = form.elements;
  const find = (id) => document.getElementById(`search-${id}`);
  const words = JSON.parse(find("words").dataset.words);
  const said = find("said"), results = find("results"), more = find("more");
  const list = results.querySelector("ol");
  // Results shown at a time.
  const ROUND = 10;
  // Milliseconds after the last key before a search.
  const PAUSE = 500;
  // Files and words that a beginning may stand for.
  const MOST_FILES = 4, MOST_WORDS = 60, MOST_SLIPS = 4;
  // Letters from which on a beginning counts, and one slip and two are forgiven.
  const BEGINNING = 3, ONE_SLIP = 4, TWO_SLIPS = 8;
  // What a word is worth that only begins as typed, and one that was read into a slip.
  const AS_BEGINNING = 0.6, AS_SLIP = 0.5;
  const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  const DIGEST = 10, GROUP = 64, LEVELS = 8;

  // --- words, as sitegen/typeset/searchdata.py makes them ---

  const LETTERS = { œ: "oe", Œ: "oe", æ: "ae", Æ: "ae", ø: "o", Ø: "o", ß: "ss", ł: "l", Ł: "l", đ: "d", Đ: "d" };

  function wordsIn(text) {
    const plain = text.replace(/[œŒæÆøØßłŁđĐ]/g, (letter) => LETTERS[letter]).normalize("NFKD").replace(/\p{M}/gu, "");
    const found = plain.replace(/['’‘ʻʼ`]/g, "").toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [];
    return found.filter((word) => [...word].length > 1 && (/^\p{L}/u.test(word) || /^(19|20)[0-9]{2}$/.test(word)));
  }

  function term(word, language) {
    const shorter = (long) => long.slice(0, -1);
    if (language === "en") {
      if (word.length > 3 && /s$/.test(word) && !/[sui]s$/.test(word)) word = shorter(word);
      if (word.length > 3 && /(?:(?:[sxzc]|ch|sh)e|ie)$/.test(word)) return shorter(word);
      return word.length > 3 && /y$/.test(word) ? `${shorter(word)}i` : word;
    }
    if (language === "es") {
      const single = (long) => (long.length > 3 && /s$/.test(long) ? shorter(long) : long);
      word = single(word);
      if (word.length > 3 && /[b-df-hj-np-tv-z]e$/.test(word)) word = single(shorter(word));
      return word.replace(/z$/, "c");
    }
    return word;
  }

  /** Letters to add, leave out, change or swap with their neighbour (optimal string alignment) from one word to another;
      more than `most` counts as `most` + 1. */
  function slips(one, other, most) {
    if (Math.abs(one.length - other.length) > most) return most + 1;
    let before = [], last = [...Array(other.length + 1).keys()];
    for (let i = 1; i <= one.length; i++) {
      const row = [i];
      for (let j = 1; j <= other.length; j++) {
        const same = one[i - 1] === other[j - 1];
        row[j] = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0 : 1));
        if (i > 1 && j > 1 && one[i - 1] === other[j - 2] && one[i - 2] === other[j - 1]) row[j] = Math.min(row[j], before[j - 2] + 1);
      }
      if (Math.min(...row) > most) return most + 1;
      [before, last] = [last, row];
    }
    return Math.min(last.at(-1), most + 1);
  }

  // --- files ---

  const held = new Map();

  /** A file, fetched once; one that failed is tried again the next time. */
  function file(address, read, cache = "default") {
    if (!held.has(address)) {
      const answer = fetch(address, { cache }).then((answered) => {
        if (!answered.ok) throw new Error(answered.statusText);
        return answered[read]();
      });
      held.set(address, answer);
      answer.catch(() => held.delete(address));
    }
    return held.get(address);
  }

  const index = new URL(form.dataset.index, location.href);
  const part = (name) => new URL(`search/${name}`, index).href;

  async function directory() {
    // It has one name for good, so a copy that a browser kept is asked after.
    const data = await file(index.href, "json", "no-cache");
    if (!data.files) {
      const keyed = (listed) => new Map(listed.split(" ").map((each) => [each.slice(0, -DIGEST), each.slice(-DIGEST)]));
      data.files = { words: keyed(data.words), starts: keyed(data.starts), ends: keyed(data.ends), cards: keyed(data.cards) };
    }
    return data;
  }

  /** Digests of the files with what begins so: the one with the longest key it begins with, and those with longer ones. */
  function filesFor(files, begin, { exact = false } = {}) {
    const found = [];
    for (let length = begin.length; length >= 0; length--) {
      const digest = files.get(begin.slice(0, length));
      if (!digest) continue;
      found.push(digest);
      break;
    }
    if (!exact) for (const [key, digest] of files) if (key.length > begin.length && key.startsWith(begin)) found.push(digest);
    return found;
  }

  const lines = async (digests) => (await Promise.all(digests.map((digest) => file(part(`${digest}.txt`), "text")))).join("").split("\n");

  /** Weight (0 to 1) by story for a line of `words`. */
  function decoded(line) {
    const stories = new Map();
    let number = 0, value = 0, unit = 1;
    for (const sign of line.slice(line.indexOf(" ") + 1)) {
      const digit = DIGITS.indexOf(sign);
      value += (digit % 32) * unit;
      unit *= 32;
      if (digit >= 32) continue;
      number += Math.floor(value / LEVELS);
      stories.set(number, ((value % LEVELS) + 1) / LEVELS);
      value = 0;
      unit = 1;
    }
    return stories;
  }

  async function storiesWith(data, word) {
    const found = (await lines(filesFor(data.files.words, word, { exact: true }))).find((line) => line.startsWith(`${word} `));
    return found ? decoded(found) : new Map();
  }

  function add(all, stories, worth) {
    for (const [number, weight] of stories) all.set(number, Math.max(all.get(number) ?? 0, weight * worth));
  }

  /** Words that a reader may have meant: those with the fewest slips, the most used first. The files have words as people
      write them, so that what a slip was read as can be said. */
  async function meant(data, word) {
    const letters = [...word];
    const most = letters.length >= TWO_SLIPS ? 2 : letters.length >= ONE_SLIP ? 1 : 0;
    // One slip leaves these letters at the beginning, or all others at the end, unless it swaps the two in between.
    const whole = letters.length < 7 ? 2 : 3;
    const swapped = [...letters.slice(0, whole - 1), letters[whole], letters[whole - 1], ...letters.slice(whole + 1)].join("");
    const near = async (ending, away) => {
      const begins = filesFor(data.files.starts, letters.slice(0, whole).join(""));
      const swaps = filesFor(data.files.starts, swapped, { exact: true });
      const ends = filesFor(data.files.ends, letters.slice(-ending).reverse().join(""));
      const all = await lines([...new Set([...begins, ...swaps, ...ends])]);
      return [...new Set(all)].filter((line) => line && slips(word, line.slice(1), away) <= away);
    };
    let found = most ? await near(letters.length - whole, 1) : [];
    // Of two slips one may be at each end, and is not found then.
    if (!found.length && most === 2) found = await near(whole + 1, 2);
    return found.sort((one, other) => other[0] - one[0]).slice(0, MOST_SLIPS).map((line) => line.slice(1));
  }

  /** The stories for a word as typed, and the word it was read as where no story has it. */
  async function forWord(data, word, isLast) {
    const sought = term(word, data.language);
    const all = await storiesWith(data, sought);
    // A year means above all the stories of that year, which seldom name it.
    if (/^\d/.test(word)) add(all, await storiesWith(data, `@${word}`), LEVELS);
    const files = isLast && word.length >= BEGINNING ? filesFor(data.files.words, word) : [];
    if (files.length && files.length <= MOST_FILES) {
      const begun = (await lines(files)).filter((line) => line.startsWith(word) && !line.startsWith(`${sought} `));
      for (const line of begun.slice(0, MOST_WORDS)) add(all, decoded(line), AS_BEGINNING);
    }
    if (all.size) return { all, readAs: "" };
    const others = await meant(data, word);
    for (const other of others) add(all, await storiesWith(data, term(other, data.language)), AS_SLIP);
    return { all, readAs: others.join(", ") };
  }

  // --- the answer ---

  const search = () => new URLSearchParams([...new FormData(form)].map(([name, value]) => [name, value.trim()]).filter(([, value]) => value));

  /** {numbers, partly, readAs}: the stories, the best first. */
  async function answer(query) {
    const data = await directory();
    const typed = query.get("q") ?? "";
    const all = wordsIn(typed);
    const small = new Set(data.small);
    const sought = [...new Set(all)].filter((word) => !small.has(word));
    const isBegun = /[\p{L}\p{N}]$/u.test(typed);
    const limits = [];
    if (query.get("county")) limits.push(await storiesWith(data, `@${data.counties.findIndex(([, address]) => address.split("/")[1] === query.get("county"))}`));
    if (query.get("year")) limits.push(await storiesWith(data, `@${query.get("year")}`));
    if (typed && !sought.length) return { numbers: [], tooShort: true };
    const found = await Promise.all(sought.map((word) => forWord(data, word, isBegun && word === all.at(-1))));
    const fits = (number) => limits.every((limit) => limit.has(number));
    const scores = new Map(), matched = new Map();
    // BM25's weight of a rare word (Robertson and Zaragoza 2009, equation 3.3 with one added, so that none is below zero; from memory).
    for (const { all: stories } of found) {
      const rare = Math.log(1 + (data.stories - stories.size + 0.5) / (stories.size + 0.5));
      for (const [number, weight] of stories) {
        if (!fits(number)) continue;
        scores.set(number, (scores.get(number) ?? 0) + rare * weight);
        matched.set(number, (matched.get(number) ?? 0) + 1);
      }
    }
    if (!found.length) for (const number of limits[0]?.keys() ?? []) if (fits(number)) scores.set(number, 0);
    const whole = [...scores.keys()].filter((number) => found.length === (matched.get(number) ?? 0));
    const numbers = whole.length ? whole : [...scores.keys()];
    numbers.sort((one, other) => scores.get(other) - scores.get(one) || other - one);
    return { data, numbers, scores, partly: !whole.length, readAs: found.map(({ readAs }) => readAs).filter(Boolean).join(", ") };
  }

  async function cardsOf(numbers) {
    const data = await directory();
    const files = [...new Set(numbers.map((number) => data.files.cards.get(`${Math.floor(number / GROUP)}`)))];
    const cards = await Promise.all(files.map((digest) => file(part(`${digest}.json`), "json")));
    return new Map(cards.flat().map((card) => [card[0], card]));
  }

  function element(tag, text, className) {
    const made = document.createElement(tag);
    if (text) made.textContent = text;
    if (className) made.className = className;
    return made;
  }

  function link(address, text, language) {
    const made = element("a", text);
    made.href = new URL(`../${address}`, index).href;
    if (language) made.lang = language;
    return made;
  }

  function askRow([kind, title, anchor, end, lines], page, now, language) {
    const row = element("li");
    if (end) row.dataset.end = end;
    const what = element("p", "", "what");
    const named = element("span", kind, "kind");
    named.append(element("span", ":", "unseen"));
    what.append(named, " ", link(`${page}#${anchor}`, title, language));
    row.append(what);
    for (const [text, at, other] of lines) {
      const isOver = Date.parse(at) <= now;
      if (isOver && !other) continue;
      const line = element("p", isOver ? other : text, "of");
      if (at && !isOver) line.dataset[other ? "then" : "end"] = other ? `${at}|${other}` : at;
      row.append(line);
    }
    return row;
  }

  function item([, id, headline, day, dayWords, town, counties, asks = [], language], data) {
    const now = Date.now();
    const page = `stories/${id}/`;
    const made = element("li");
    const date = element("p", "", "date"), time = element("time", dayWords);
    time.dateTime = day;
    date.append(time);
    const side = element("div"), name = element("h3"), where = element("p", "", "of");
    name.append(link(page, headline, language));
    where.append(town, ...counties.flatMap((county, place) => [place || town ? (place ? ", " : " · ") : "", link(data.counties[county][1], data.counties[county][0])]));
    side.append(name, where);
    // What is over is not in a result, however old the page is.
    const live = asks.filter(([, , , end]) => !end || Date.parse(end) > now);
    const isHelp = ([kind]) => kind === words.help;
    for (const asked of [live.filter((ask) => !isHelp(ask)), live.filter(isHelp)]) {
      if (!asked.length) continue;
      const rows = element("ul", "", "asked");
      rows.append(...asked.map((ask) => askRow(ask, page, now, language)));
      side.append(rows);
    }
    made.append(date, side);
    return made;
  }

  let turn = 0, found = null, shown = 0;

  const number = (value) => value.toLocaleString(document.documentElement.lang);

  function say(text) {
    if (said.textContent !== text) said.textContent = text;
  }

  /** Stories that stand alike and aired in one month go by their day, which only their cards know. */
  async function draw(mine) {
    const { numbers, scores, data } = found;
    let end = Math.min(shown + ROUND, numbers.length);
    const alike = (one, other) => scores.get(one) === scores.get(other) && Math.floor(one / data.slots) === Math.floor(other / data.slots);
    while (end < numbers.length && alike(numbers[end - 1], numbers[end])) end++;
    const cards = await cardsOf(numbers.slice(shown, end));
    if (mine !== turn) return;
    const order = numbers.map((each, place) => [each, place]).slice(shown, end);
    order.sort(([one, first], [other, second]) => (alike(one, other) ? cards.get(other)[3].localeCompare(cards.get(one)[3]) : 0) || first - second);
    numbers.splice(shown, end - shown, ...order.map(([each]) => each));
    const next = numbers.slice(shown, shown + ROUND);
    list.append(...next.map((each) => item(cards.get(each), data)));
    shown += next.length;
    results.hidden = false;
    more.hidden = shown === numbers.length;
    tell(Date.now());
    const tale = [found.partly ? words.some : words.found].map((form) => fill(form, { count: number(numbers.length) }));
    if (found.readAs) tale.push(fill(words.read_as, { words: found.readAs }));
    if (shown < numbers.length) tale.push(fill(words.shown, { count: number(shown) }));
    say(tale.join(" "));
  }

  /** Does what the form asks for. */
  async function show() {
    const mine = ++turn;
    const query = search();
    if (!query.toString()) {
      clear();
      return say("");
    }
    form.dataset.busy = "";
    say(words.looking);
    try {
      await look(query, mine);
    } catch {
      try {
        // The site may have been built anew since the directory was fetched: its files have other names then.
        held.delete(index.href);
        await look(query, mine);
      } catch {
        if (mine !== turn) return;
        clear();
        say(words.failed);
      }
    } finally {
      if (mine === turn) delete form.dataset.busy;
    }
  }

  async function look(query, mine) {
    const answered = await answer(query);
    if (mine !== turn) return;
    clear();
    found = answered;
    if (found.numbers.length) await draw(mine);
    else say(found.tooShort ? words.short : words.none);
  }

  function clear() {
    found = null;
    shown = 0;
    list.replaceChildren();
    results.hidden = true;
    more.hidden = true;
  }

  const address = () => {
    const query = search().toString();
    return query ? `?${query}` : location.pathname;
  };

  function write() {
    form.reset();
    for (const [name, value] of new URLSearchParams(location.search)) if (form.elements[name]) form.elements[name].value = value;
    show();
  }

  let timer = 0;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    clearTimeout(timer);
    if (address() !== location.search) history.pushState(null, "", address());
    show();
  });
  const update = () => {
    history.replaceState(null, "", address());
    show();
  };
  field.addEventListener("input", () => {
    clearTimeout(timer);
    const length = field.value.trim().length;
    if (!length || length >= BEGINNING) timer = setTimeout(update, PAUSE);
  });
  for (const select of [county, year]) select.addEventListener("change", update);
  // Whoever is about to type is about to ask; what fails now is told then.
  field.addEventListener("focus", () => directory().catch(() => {}), { once: true });
  more.addEventListener("click", async () => {
    const next = list.children.length;
    try {
      await draw(turn);
      list.children[next]?.querySelector("a").focus();
    } catch {
      say(words.failed);
    }
  });
  addEventListener("popstate", write);
  find("plain").hidden = true;
  if (location.search) write();
  // So that it can be checked.
  Object.assign(form, { wordsIn, term, slips });
})();
