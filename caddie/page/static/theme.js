// Before the first paint, so that a chosen theme does not flash in.
(() => {
  const chosen = localStorage.getItem("caddie theme");
  if (chosen === "dark" || chosen === "light") document.documentElement.dataset.theme = chosen;
})();
