/* tools/report/page.js — values under the pointer or the arrow keys, and the animation.
   SPDX-License-Identifier: GPL-3.0-or-later */
"use strict";
/* The picture as it is: a line over it. Without the chart library (live_chart.js) there is no zoom. */
const plainView = (figure, data, places, show) => {
  const svg = figure.querySelector("svg"), cursor = figure.querySelector(".cursor");
  const [left, right, least, most] = data.frame, scaled = x => data.log ? Math.log10(x) : x;
  const onPicture = x => left + (right - left) * (scaled(x) - least) / (most - least);
  svg.addEventListener("pointermove", event => {
    const box = svg.getBoundingClientRect();
    const x = (event.clientX - box.left) / box.width * svg.viewBox.baseVal.width;
    const away = i => Math.abs(onPicture(places[i]) - x);
    show(places.reduce((best, _, i) => away(i) < away(best) ? i : best, 0));
  });
  return {
    mark: i => {
      cursor.setAttribute("x1", onPicture(places[i]));
      cursor.setAttribute("x2", onPicture(places[i]));
      cursor.style.visibility = "visible";
    },
    zoom: () => {}, all: () => {}, range: () => null,
  };
};
for (const figure of document.querySelectorAll("figure.chart")) {
  const data = JSON.parse(figure.querySelector("script").textContent);
  const readout = figure.querySelector(".readout");
  const person = x => String(Number(x.toPrecision(4)));
  const known = data.curves.map(c => c.points.filter(p => p[1] !== null)).filter(p => p.length);
  const places = [...new Set(known.flat().map(p => p[0]))].sort((a, b) => a - b);
  const names = data.curves.filter(c => c.points.some(p => p[1] !== null)).map(c => c.name);
  const nearest = (points, x) =>
    points.reduce((a, b) => Math.abs(b[0] - x) < Math.abs(a[0] - x) ? b : a);
  let at = -1;
  const tell = () => {
    const told = [];
    if (at >= 0) {
      const x = places[at];
      told.push(`${data.x_label}: ${person(x)} \u2014 ` +
        known.map((points, i) => `${names[i]}: ${person(nearest(points, x)[1])}`).join("; "));
    }
    const range = view.range();
    if (range) told.push(`shown from ${person(range[0])} to ${person(range[1])}`);
    readout.textContent = told.join(" \u2014 ");
  };
  const show = i => {
    at = Math.max(0, Math.min(places.length - 1, i));
    view.mark(at);
    tell();
  };
  const view = (typeof Dygraph === "function" ? liveView : plainView)(figure, data, places, show, tell);
  figure.addEventListener("keydown", event => {
    const step = { ArrowRight: 1, ArrowLeft: -1, PageDown: 10, PageUp: -10 }[event.key];
    if (step) show(at + step);
    else if (event.key === "Home") show(0);
    else if (event.key === "End") show(places.length - 1);
    else if (event.key === "+" || event.key === "-")
      view.zoom(event.key === "+" ? 0.5 : 2, places[Math.max(at, 0)]);
    else if (event.key === "Escape") view.all();
    else return;
    event.preventDefault();
  });
}
for (const film of document.querySelectorAll("figure.film")) {
  const frames = JSON.parse(film.querySelector("script").textContent);
  const picture = film.querySelector("img"), button = film.querySelector("button");
  let running = null, i = 0;
  button.hidden = false;
  button.addEventListener("click", () => {
    if (running) { clearInterval(running); running = null; button.textContent = "Play"; return; }
    running = setInterval(() => { i = (i + 1) % frames.length; picture.src = frames[i]; }, 120);
    button.textContent = "Stop";
  });
}
