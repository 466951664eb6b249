// Each slider shows a sheet up to one of its cuts: what comes later is pale.
for (const slider of document.querySelectorAll(".follow input")) {
  const figure = slider.closest("figure");
  const steps = figure.querySelectorAll("[data-step]");
  const told = figure.querySelector("output");
  const show = () => {
    const now = Number(slider.value);
    for (const step of steps) {
      const number = Number(step.dataset.step);
      step.classList.toggle("later", number > now);
      step.classList.toggle("now", number === now && now < Number(slider.max));
    }
    const current = figure.querySelector(`g[data-step="${now}"]`);
    told.value = now === 0 ? "before the first cut" : `cut ${now} of ${slider.max}: ${current.dataset.says}`;
  };
  slider.addEventListener("input", show);
  show();
}
