/* tools/report/page.js — values under the pointer or the arrow keys, zoom, and the animation.
   SPDX-License-Identifier: GPL-3.0-or-later */
"use strict";
for (const figure of document.querySelectorAll("figure.chart")) {
  const data = JSON.parse(figure.querySelector("script").textContent);
  const svg = figure.querySelector("svg"), cursor = figure.querySelector(".cursor");
  const readout = figure.querySelector(".readout");
  const plain = svg.getAttribute("viewBox"), [, , width, height] = plain.split(" ").map(Number);
  const places = [...new Set(data.curves.flatMap(c => c.points.map(p => p[0])))].sort((a, b) => a - b);
  let at = -1, zoom = 1, from = 0;
  const nearest = (points, x) => points.reduce((a, b) => Math.abs(b[0] - x) < Math.abs(a[0] - x) ? b : a);
  const show = i => {
    at = Math.max(0, Math.min(places.length - 1, i));
    const x = places[at];
    cursor.setAttribute("x1", x);
    cursor.setAttribute("x2", x);
    cursor.style.visibility = "visible";
    const found = data.curves.filter(c => c.points.length).map(c => [c.name, nearest(c.points, x)]);
    readout.textContent = `${data.x_label}: ${found[0][1][1]} \u2014 ` +
      found.map(([name, p]) => `${name}: ${p[2]}`).join("; ");
  };
  const look = () => {
    from = Math.max(0, Math.min(width - width / zoom, from));
    svg.setAttribute("viewBox", zoom > 1 ? `${from} 0 ${width / zoom} ${height}` : plain);
    svg.setAttribute("preserveAspectRatio", zoom > 1 ? "none" : "xMidYMid meet");
  };
  const place = event => {
    const box = svg.getBoundingClientRect();
    return from + (event.clientX - box.left) / box.width * width / zoom;
  };
  svg.addEventListener("pointermove", event => {
    const x = place(event);
    show(places.reduce((best, p, i) => Math.abs(p - x) < Math.abs(places[best] - x) ? i : best, 0));
  });
  svg.addEventListener("dblclick", event => {
    const x = place(event);
    zoom = zoom >= 8 ? 1 : zoom * 2;
    from = x - width / zoom / 2;
    look();
  });
  figure.addEventListener("keydown", event => {
    const step = { ArrowRight: 1, ArrowLeft: -1, PageDown: 10, PageUp: -10 }[event.key];
    if (step) show(at + step);
    else if (event.key === "Home") show(0);
    else if (event.key === "End") show(places.length - 1);
    else if (event.key === "+" || event.key === "-") {
      zoom = Math.max(1, Math.min(8, event.key === "+" ? zoom * 2 : zoom / 2));
      from = places[Math.max(at, 0)] - width / zoom / 2;
      look();
    } else return;
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
