// Find as you type over the places of the packet. Everything that can be found is in this page; without this script the
// box stays hidden, and the sheets are read as they are.
(() => {
  const places = JSON.parse(document.getElementById("places").textContent);
  const box = document.getElementById("find");
  const list = document.getElementById("found");
  const told = document.getElementById("told");
  const most = 50;
  // Whole words before parts of words, and what begins with the first one before the rest.
  const rank = (text, words) => {
    const parts = text.split(/[\s,·:]+/);
    return 2 * words.filter((word) => !parts.includes(word)).length + (parts[0] === words[0] ? 0 : 1);
  };
  const show = () => {
    const words = box.value.toLowerCase().split(/\s+/).filter((word) => word !== "");
    const fits = (place) => words.every((word) => place.text.toLowerCase().includes(word));
    const found = words.length === 0 ? [] : places.filter(fits);
    found.sort((one, other) => rank(one.text.toLowerCase(), words) - rank(other.text.toLowerCase(), words));
    const row = (place) => {
      const item = document.createElement("li");
      const link = document.createElement("a");
      link.href = place.to;
      link.textContent = place.text;
      item.append(link, " – " + place.sheet);
      return item;
    };
    list.replaceChildren(...found.slice(0, most).map(row));
    const more = found.length > most ? `, the first ${most} of them here` : "";
    told.textContent = words.length === 0 ? "" : `${found.length === 1 ? "1 place" : found.length + " places"}${more}`;
  };
  box.addEventListener("input", show);
  document.getElementById("finder").hidden = false;
  show();
})();
