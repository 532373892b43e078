// Loads the page again when `loopwright watch` has another state of the packet.
(() => {
  const mine = document.getElementById("live").dataset.state;
  const ask = async () => {
    try {
      const answer = await fetch("/-/state");
      if ((await answer.text()) !== mine) location.reload();
    } catch {
      // The watch has ended; the page stays as it is.
    }
  };
  setInterval(ask, 500);
})();
