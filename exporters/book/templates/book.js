"use strict";
(() => {
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const byId = (id) => document.getElementById(id);
  const questions = all("article.question");
  const groups = [...all("section.situation"), ...all("section.family")];
  const chosen = { family: byId("family"), kind: byId("kind"), level: byId("level"), objective: byId("objective") };
  const words = byId("words");
  const texts = new Map();
  const lines = new Map();
  for (const line of all("nav.contents li")) {
    const link = line.querySelector("a");
    if (link) {
      const id = decodeURIComponent(link.hash.slice(1));
      lines.set(id, [...(lines.get(id) || []), line]);
    }
  }

  const textOf = (question) => {
    if (!texts.has(question)) {
      texts.set(question, question.textContent.toLowerCase().replace(/\s+/g, " "));
    }
    return texts.get(question);
  };

  const fits = (question, wanted) =>
    (!chosen.family.value || question.dataset.family === chosen.family.value) &&
    (!chosen.kind.value || question.dataset.kind === chosen.kind.value) &&
    (!chosen.level.value || question.dataset.level === chosen.level.value) &&
    (!chosen.objective.value || question.dataset.objectives.split(" ").includes(chosen.objective.value)) &&
    wanted.every((word) => textOf(question).includes(word));

  const filter = () => {
    const wanted = words.value.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    for (const question of questions) {
      question.hidden = !fits(question, wanted);
      shown += question.hidden ? 0 : 1;
      for (const line of lines.get(question.id) || []) {
        line.hidden = question.hidden;
      }
    }
    for (const group of groups) {
      group.hidden = !group.querySelector("article.question:not([hidden])");
    }
    const told = shown === questions.length
      ? `All questions are shown: ${shown}.`
      : `Shown: ${shown} of ${questions.length} questions.`;
    byId("status").textContent = told;
    byId("chosen").textContent = told;
    byId("chosen").hidden = shown === questions.length;
  };

  let waiting = 0;
  const soon = () => {
    clearTimeout(waiting);
    waiting = setTimeout(filter, 200);
  };
  const form = document.querySelector("#filters form");
  words.addEventListener("input", soon);
  form.addEventListener("change", filter);
  form.addEventListener("reset", () => setTimeout(filter));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    filter();
  });

  // a link to a question that the filter hides shows all again
  const arrive = () => {
    const target = byId(decodeURIComponent(location.hash.slice(1)));
    if (target && target.closest("[hidden]")) {
      form.reset();
      filter();
      target.scrollIntoView();
    }
  };
  addEventListener("hashchange", arrive);

  const unfold = byId("unfold");
  const folded = () => all("main details");
  unfold.addEventListener("click", () => {
    const open = unfold.getAttribute("aria-pressed") !== "true";
    unfold.setAttribute("aria-pressed", String(open));
    for (const each of folded()) {
      each.open = open;
    }
  });
  let opened = [];
  addEventListener("beforeprint", () => {
    opened = all("details:not([open])");
    for (const each of opened) {
      each.open = true;
    }
  });
  addEventListener("afterprint", () => {
    for (const each of opened) {
      each.open = false;
    }
  });

  // what scrolls by itself is reached by keyboard, and says what it is
  const reach = (within) => {
    for (const box of all(".formula, .wide, .scrolls", within)) {
      if (box.scrollWidth > box.clientWidth) {
        box.tabIndex = 0;
        box.setAttribute("role", "group");
        box.setAttribute("aria-label", `${box.dataset.name || "formula"}, scrolls sideways`);
      } else if (box.tabIndex === 0) {
        for (const name of ["tabindex", "role", "aria-label"]) {
          box.removeAttribute(name);
        }
      }
    }
  };
  const near = new Set();
  const watch = new IntersectionObserver((entries) => {
    for (const entry of entries) {
      if (entry.isIntersecting) {
        near.add(entry.target);
        reach(entry.target);
      } else {
        near.delete(entry.target);
      }
    }
  }, { rootMargin: "50% 0px" });
  questions.forEach((question) => watch.observe(question));
  addEventListener("resize", () => near.forEach(reach));
  document.addEventListener("toggle", (event) => reach(event.target), true);

  byId("filters").hidden = false;
  filter();
})();
