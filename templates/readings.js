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
  const read = () => store((s) => JSON.parse(s.getItem(key))) ?? {};
  const kept = read();
  // By what was measured and never by its place in the page: another revision has other rows. What this page does not
  // ask for stays, for the page that does.
  let values = new Map(Object.entries(kept.values ?? {}));
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
      if (wanted) told.push(`${unit}: ${fits(found, wanted) ? "fits" : "DOES NOT FIT"}`);
      else told.push(unit + ": noted");
    }
    line.verdict.textContent = told.join(", ");
  };
  const write = (changed) => {
    const taken = lines.filter((line) => line.written.length > 0);
    const named = meter.value.replace(/["\\\p{C}\p{Zl}\p{Zp}]/gu, " ").trim();
    const head = `measured date="${date.value}"${named === "" ? "" : ` meter="${named}"`} {\n`;
    const body = taken.map((line) => `    ${line.expected.line} ${line.written.join(" ")}\n`).join("");
    text.value = taken.length === 0 ? "" : `${head}${body}}\n`;
    // Only what was changed here: the page may be open twice.
    values = new Map(Object.entries(read().values ?? {}));
    for (const [unit, field] of Object.entries(changed?.fields ?? {})) {
      if (field.value === "") values.delete(`${changed.of} ${unit}`);
      else values.set(`${changed.of} ${unit}`, field.value);
    }
    store((s) => s.setItem(key, JSON.stringify({ date: date.value, meter: meter.value, values: Object.fromEntries(values) })));
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
        field.value = values.get(`${line.of} ${unit}`) ?? "";
        field.addEventListener("input", () => {
          judge(line);
          write(line);
        });
        const label = element("label", unit === "ohms" ? "Ω, leads off " : "V, leads on ", { htmlFor: id });
        label.append(field);
        row.append(label, " ");
        line.fields[unit] = field;
      }
      row.append(element("small", expected.expected), " ", line.verdict);
      set.append(row);
      lines.push(line);
      judge(line);
    });
    rows.append(set);
  });
  // By the clock on the wall, not by that of Greenwich.
  const today = () => {
    const now = new Date();
    now.setMinutes(now.getMinutes() - now.getTimezoneOffset());
    return now.toISOString().slice(0, 10);
  };
  const taken = lines.some((line) => Object.values(line.fields).some((field) => field.value !== ""));
  date.value = (taken ? kept.date : null) ?? today();
  // Of an earlier day: what is taken now would be dated as it.
  const earlier = element("p", `Kept of ${date.value}, and not of today: copy them and forget them before new ones are taken.`);
  earlier.hidden = date.value === today();
  rows.parentElement.before(earlier);
  const wanted = new Set(lines.flatMap((line) => Object.keys(line.fields).map((unit) => `${line.of} ${unit}`)));
  const strays = [...values].filter(([of]) => !wanted.has(of));
  store((s) => {
    for (const other of Object.keys(s).filter((other) => other !== key ? other.startsWith(prefix) : false)) {
      if (JSON.parse(other.slice(prefix.length))[0] === data.site[0]) strays.push(...Object.entries(JSON.parse(s.getItem(other)).values));
    }
  });
  const told = strays.map(([of, value]) => `${of}: ${value}`).join("; ");
  const stray = element("p", `Kept in this browser as well, of lines that this page does not have under its title and zones: ${told}`);
  stray.hidden = strays.length === 0;
  rows.parentElement.before(stray);
  meter.value = kept.meter ?? "";
  meter.maxLength = 200;
  for (const field of [date, meter]) field.addEventListener("input", () => write());
  // What was typed on the same page elsewhere.
  window.addEventListener("focus", () => {
    const now = read().values;
    for (const line of now ? lines : []) {
      for (const [unit, field] of Object.entries(line.fields)) field.value = now[`${line.of} ${unit}`] ?? "";
      judge(line);
    }
    write();
  });
  document.getElementById("copy").addEventListener("click", () => {
    text.select();
    navigator.clipboard?.writeText(text.value).catch(() => {});
  });
  document.getElementById("clear").addEventListener("click", () => {
    if (!window.confirm("Forget all readings that are kept in this browser?")) return;
    store((s) => s.removeItem(key));
    date.value = today();
    earlier.hidden = true;
    stray.hidden = true;
    for (const line of lines) {
      for (const field of Object.values(line.fields)) field.value = "";
      judge(line);
    }
    write();
  });
  taker.hidden = false;
  write();
})();
