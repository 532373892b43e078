// Takes readings on a phone or in an attic without a network: says at once whether each fits, by the figures in this page,
// keeps them in the browser, and gives the text for the file of readings. Without this script the sheet is read and printed.
(() => {
  const data = JSON.parse(document.getElementById("expected").textContent);
  const taker = document.getElementById("taker");
  const rows = document.getElementById("readings");
  const text = document.getElementById("text");
  const date = document.getElementById("date");
  const meter = document.getElementById("meter");
  const key = "readings taken of " + JSON.stringify(data.site);
  const store = (change) => {
    try {
      return change(window.localStorage);
    } catch {
      return null;
    }
  };
  const kept = JSON.parse(store((s) => s.getItem(key)) ?? "{}");
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
  const write = () => {
    const taken = lines.filter((line) => line.written.length > 0);
    const named = meter.value.replace(/["\\\n]/g, " ").trim();
    const head = `measured date="${date.value}"${named === "" ? "" : ` meter="${named}"`} {\n`;
    const body = taken.map((line) => `    ${line.expected.line} ${line.written.join(" ")}\n`).join("");
    text.value = taken.length === 0 ? "" : `${head}${body}}\n`;
    for (const line of lines) {
      for (const [unit, field] of Object.entries(line.fields)) {
        if (field.value === "") values.delete(`${line.of} ${unit}`);
        else values.set(`${line.of} ${unit}`, field.value);
      }
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
      judge(line);
    });
    rows.append(set);
  });
  const today = () => new Date().toISOString().slice(0, 10);
  const taken = lines.some((line) => Object.values(line.fields).some((field) => field.value !== ""));
  date.value = (taken ? kept.date : null) ?? today();
  // Of an earlier day: what is taken now would be dated as it.
  const earlier = element("p", `Kept of ${date.value}, and not of today: copy them and forget them before new ones are taken.`);
  earlier.hidden = date.value === today();
  rows.parentElement.before(earlier);
  meter.value = kept.meter ?? "";
  for (const field of [date, meter]) field.addEventListener("input", write);
  document.getElementById("copy").addEventListener("click", () => {
    text.select();
    navigator.clipboard?.writeText(text.value).catch(() => {});
  });
  document.getElementById("clear").addEventListener("click", () => {
    if (!window.confirm("Forget all readings that are kept in this browser?")) return;
    values = new Map();
    date.value = today();
    earlier.hidden = true;
    for (const line of lines) {
      for (const field of Object.values(line.fields)) field.value = "";
      judge(line);
    }
    write();
  });
  taker.hidden = false;
  write();
})();
