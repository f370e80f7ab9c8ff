"""The strip on top of a page in a preview: problems and findings of the moment, and the page anew."""

SCRIPT = """\
"use strict";
(() => {
  const own = document.currentScript;
  const pages = Number(own.dataset.pages);
  const MOST = 12;
  const host = document.createElement("div");
  const root = host.attachShadow({mode: "open"});
  const style = document.createElement("style");
  style.textContent = `
    :host { all: initial; display: block; }
    details { font: 0.9rem/1.4 system-ui, sans-serif; padding: 0.4rem 1rem; color: #1d2830;
              background: #e4eef2; border-bottom: 2px solid #3f6f83; }
    details.broken { background: #fbe7d8; border-color: #a5401a; }
    summary { cursor: pointer; font-weight: 600; }
    ul { margin: 0.3rem 0; padding-left: 1.2rem; max-height: 40vh; overflow: auto; }
    li { overflow-wrap: anywhere; }
    @media print { :host { display: none; } }
  `;
  const box = document.createElement("details");
  const title = document.createElement("summary");
  const list = document.createElement("ul");
  box.append(title, list);
  list.setAttribute("aria-live", "polite");
  root.append(style, box);
  document.body.prepend(host);

  function show(state) {
    const broken = state.problems.length > 0;
    const lines = broken ? state.problems : state.findings;
    box.className = broken ? "broken" : "";
    if (broken) box.open = true;
    const stay = state.pages ? "; the last good pages stay" : "";
    title.textContent = broken
      ? `Preview: ${lines.length} ${lines.length === 1 ? "problem" : "problems"} in what is written${stay}`
      : `Preview: ${state.summary.join(" | ")}`;
    const shown = lines.slice(0, MOST);
    if (lines.length > MOST) shown.push(`and ${lines.length - MOST} more`);
    list.replaceChildren(...shown.map((line) => {
      const item = document.createElement("li");
      item.textContent = line;
      return item;
    }));
  }

  async function listen() {
    let news = -1;
    for (;;) {
      try {
        const answer = await fetch(`/preview/state?news=${news}`);
        const state = await answer.json();
        if (state.pages !== pages) { location.reload(); return; }
        if (state.news !== news) show(state);
        news = state.news;
      } catch {
        await new Promise((go) => setTimeout(go, 1000));
      }
    }
  }
  listen();
})();
"""
"""Runs in a page that is shown by a preview; published pages never hold it."""
