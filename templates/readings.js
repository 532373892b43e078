// Takes readings on a phone or in an attic without a network: says at once whether each fits, by the figures in this page,
// keeps them in the browser, and gives the text for the file of readings. Without this script the sheet is read and printed.
(() => {
  const data = JSON.parse(document.getElementById("expected").textContent);
  const taker = document.getElementById("taker");
  const rows = document.getElementById("readings");
  const text = document.getElementById("text");
  const date = document.getElementById("date");
  const meter = document.getElementById("meter");
  const prefix = "readings taken of ";
  const key = prefix + JSON.stringify(data.site);
  const store = (change) => {
    try {
      return change(window.localStorage);
    } catch {
      return null;
    }
  };
  const kept = store((s) => JSON.parse(s.getItem(key))) ?? {};
  // By what was measured and never by its place in the page: another revision has other rows. What this page does not
  // ask for stays, for the page that does.
  let values = new Map(Object.entries(kept.values ?? {}));
  // Whether the browser has what this page has: then it may have more, of another tab.
  let saved = true;
  // What a display shows, as 2k2, 2.2 kΩ, OL or 250mV; null where it is unclear. The program reads the same forms
  // (src/quantity/meter_text.rs); tests/readings/meter-forms.txt lists them.
  const value = (written, ohms) => {
    const text = written.trim();
    if (ohms ? /^(ol|0l|open|inf|∞)[km]?(ohms?|ω|\u2126)?$/i.test(text.replace(/[\s.]/g, "")) : false) return Infinity;
    const parts = ohms
      ? (text.match(/^(\d+)([kKMRr])(\d+)\s*(?:ohms?|Ω|\u2126)?$/i) ?? text.match(/^(\d+(?:[.,]\d*)?|[.,]\d+)\s*([kKMRr]?)()\s*(?:ohms?|Ω|\u2126)?$/i))
      : (text.match(/^(\d+)(V)(\d+)$/i) ?? text.match(/^(\d+(?:[.,]\d*)?|[.,]\d+)\s*(m(?=V)|m(?=v))?()\s*(?:v|volts?|v\s*dc)?$/i));
    if (!parts) return null;
    const [, number, letter, behind] = parts;
    // A small m is milli or mega for ohms; a comma before three digits parts thousands or is the point.
    if (ohms ? letter === "m" || /^(?!0,)\d{1,3},\d{3}$/.test(number) : letter === "M") return null;
    const power = { k: 3, K: 3, M: 6, m: -3 }[letter] ?? 0;
    return Number(`${number.replace(",", ".")}${behind === "" ? "" : "." + behind}e${power}`);
  };
  // No lower-than sign: the page is read as XML as well.
  // In the digits of the range, as the program holds them (src/calc/meter.rs).
  const digits = (found, ohms) => (ohms ? (found >= 100 ? Number(found.toPrecision(4)) : Math.round(found * 10) / 10) : Math.round(found * 100) / 100);
  const fits = (found, [least, greatest]) => !(least > found || (greatest === null ? false : found > greatest));
  const number = (found) => String(Number(found.toPrecision(12)));
  const lines = [];
  const judge = (line) => {
    const told = [];
    line.written = [];
    for (const [unit, field] of Object.entries(line.fields)) {
      if (field.value.trim() === "") continue;
      const found = value(field.value, unit === "ohms");
      if (found === null) {
        told.push(unit + ": not understood");
        continue;
      }
      line.written.push(unit === "volts" ? `volts=(V)${number(found)}` : found === Infinity ? "open=#true" : `ohms=(ohm)${number(found)}`);
      const wanted = line.expected[unit];
      if (wanted) told.push(`${unit}: ${fits(digits(found, unit === "ohms"), wanted) ? "fits" : "DOES NOT FIT"}`);
      else told.push(unit + ": noted");
    }
    line.verdict.textContent = told.join(", ");
  };
  const tell = () => {
    const taken = lines.filter((line) => line.written.length > 0);
    // What a text in the spec may hold.
    const named = [...meter.value.replace(/["\\\p{C}\p{Zl}\p{Zp}]/gu, " ").trim()].slice(0, 200).join("");
    const head = `measured date="${date.value}"${named === "" ? "" : ` meter="${named}"`} {\n`;
    const body = taken.map((line) => `    ${line.expected.line} ${line.written.join(" ")}\n`).join("");
    text.value = taken.length === 0 || date.value === "" ? "" : `${head}${body}}\n`;
  };
  const write = () => {
    tell();
    const all = JSON.stringify({ date: date.value, meter: meter.value, values: Object.fromEntries(values) });
    saved = store((s) => s.setItem(key, all) === undefined) === true;
  };
  const show = () => {
    for (const line of lines) {
      for (const [unit, field] of Object.entries(line.fields)) {
        const value = values.get(`${line.of} ${unit}`) ?? "";
        if (field.value !== value) field.value = value;
      }
      judge(line);
    }
  };
  const element = (name, content, attributes) => Object.assign(document.createElement(name), { textContent: content }, attributes);
  // The line of the record, with the zone's words behind its number, for that may be another zone's by now. Lines that say
  // the same are told apart by what they are; alike even then, they are kept only while there are as many.
  const asked = (group, expected) => `${group.title}: ${expected.line} // ${expected.what}`;
  const alike = new Map();
  for (const group of data.groups) {
    for (const expected of group.readings) alike.set(asked(group, expected), (alike.get(asked(group, expected)) ?? 0) + 1);
  }
  const seen = new Map();
  const subject = (group, expected) => {
    const name = asked(group, expected);
    const count = (seen.get(name) ?? 0) + 1;
    seen.set(name, count);
    return alike.get(name) === 1 ? name : `${name} ${count} of ${alike.get(name)}`;
  };
  data.groups.forEach((group, nth) => {
    const set = document.createElement("fieldset");
    set.append(element("legend", group.title));
    group.readings.forEach((expected, at) => {
      const line = { expected, of: subject(group, expected), fields: {}, written: [], verdict: element("output", "") };
      const row = element("p", expected.what + " ");
      for (const unit of expected.units) {
        const id = `reading-${nth}-${at}-${unit}`;
        const field = element("input", "", { id, type: "text", inputMode: "text", autocomplete: "off", size: 8 });
        field.addEventListener("input", () => {
          const others = saved ? store((s) => JSON.parse(s.getItem(key))) : null;
          if (others !== null) values = new Map(Object.entries(others.values ?? {}));
          if (field.value === "") values.delete(`${line.of} ${unit}`);
          else values.set(`${line.of} ${unit}`, field.value);
          show();
          write();
        });
        const label = element("label", unit === "ohms" ? "Ω, leads off " : "V, leads on ", { htmlFor: id });
        label.append(field);
        row.append(label, " ");
        line.fields[unit] = field;
      }
      row.append(element("small", expected.expected), " ", line.verdict);
      set.append(row);
      lines.push(line);
    });
    rows.append(set);
  });
  show();
  // The day here, and not that of Greenwich.
  const today = () => {
    const now = new Date();
    return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
  };
  // Of what this page does not ask for as well: the day is that of all.
  date.value = (values.size > 0 ? kept.date : null) || today();
  // Of an earlier day: what is taken now would be dated as it.
  const earlier = element("p", `Kept of ${date.value}, and not of today: copy them and forget them before new ones are taken.`);
  earlier.hidden = date.value === today();
  rows.parentElement.before(earlier);
  const wanted = new Set(lines.flatMap((line) => Object.keys(line.fields).map((unit) => `${line.of} ${unit}`)));
  const strays = [...values].filter(([of]) => !wanted.has(of));
  // Kept under other titles of this site.
  const titles = [];
  store((s) => {
    for (const other of Object.keys(s).filter((other) => other !== key ? other.startsWith(prefix) : false)) {
      if (JSON.parse(other.slice(prefix.length))[0] !== data.site[0]) continue;
      titles.push(other);
      strays.push(...Object.entries(JSON.parse(s.getItem(other)).values));
    }
  });
  const told = strays.map(([of, value]) => `${of}: ${value}`).join("; ");
  const stray = element("p", `Kept in this browser as well, of lines that this page does not have under its title and zones: ${told}`);
  stray.hidden = strays.length === 0;
  rows.parentElement.before(stray);
  meter.value = kept.meter ?? "";
  meter.maxLength = 200;
  for (const field of [date, meter]) field.addEventListener("input", () => write());
  document.getElementById("copy").addEventListener("click", () => {
    text.select();
    navigator.clipboard?.writeText(text.value).catch(() => {});
  });
  document.getElementById("clear").addEventListener("click", () => {
    if (!window.confirm("Forget all readings that are kept in this browser?")) return;
    store((s) => titles.forEach((other) => s.removeItem(other)));
    values = new Map();
    date.value = today();
    earlier.hidden = true;
    stray.hidden = true;
    show();
    write();
  });
  // Another tab with this page.
  window.addEventListener("storage", (event) => {
    if (event.key !== key || event.newValue === null) return;
    const others = JSON.parse(event.newValue);
    values = new Map(Object.entries(others.values ?? {}));
    date.value = others.date;
    meter.value = others.meter;
    show();
    tell();
  });
  taker.hidden = false;
  tell();
})();
