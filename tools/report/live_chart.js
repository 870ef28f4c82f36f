/* tools/report/live_chart.js — a chart with zoom, drawn by dygraphs over the picture that stands alone.
   SPDX-License-Identifier: GPL-3.0-or-later */
"use strict";
const liveView = (figure, data, places, show, tell) => {
  const svg = figure.querySelector("svg"), box = document.createElement("div");
  box.className = "live";
  box.setAttribute("aria-hidden", "true");
  svg.before(box);
  figure.classList.add("lives"); // the picture is for paper now
  figure.setAttribute("aria-label", figure.getAttribute("aria-label") + ", plus and minus zoom, " +
    "Escape shows all");
  if (!document.querySelector(".zoom-hint")) {
    const hint = document.createElement("p");
    hint.className = "zoom-hint soft";
    hint.textContent = "Charts: dragging, or the wheel with Ctrl or on a chart in focus, zooms; a " +
      "double click shows all. With the keyboard: arrows read the values, + and \u2212 zoom, Escape " +
      "shows all.";
    figure.before(hint);
  }

  /* A row a place; null: not of this curve, NaN: a hole in it. */
  const columns = data.curves.map(c => new Map(c.points.map(p => [p[0], p[1] ?? NaN])));
  const xs = [...new Set(data.curves.flatMap(c => c.points.map(p => p[0])))].sort((a, b) => a - b);
  const rows = xs.map(x => [x, ...columns.map(c => c.has(x) ? c.get(x) : null)]);
  const labels = data.curves.map((_, i) => "curve " + i);
  const paths = [...svg.querySelectorAll(".curve")];
  const colour = name => getComputedStyle(figure).getPropertyValue(name).trim();
  const colours = () => ({
    colors: paths.map(path => getComputedStyle(path).stroke),
    gridLineColor: colour("--rule"), axisLineColor: colour("--soft"),
  });
  const scaled = x => data.log ? Math.log(x) : x, back = x => data.log ? Math.exp(x) : x;
  const [least, most] = [xs[0], xs[xs.length - 1]];
  const model = Dygraph.defaultInteractionModel;
  /* One finger scrolls the page, two zoom. */
  const twoFingers = handler => (event, g, context) => {
    if (event.touches.length > 1 || context.initialTouches?.length > 1) handler(event, g, context);
  };
  const chart = new Dygraph(box, rows, {
    labels: ["x", ...labels],
    series: Object.fromEntries(labels.map((label, i) => {
      const dashes = getComputedStyle(paths[i]).strokeDasharray;
      return [label, dashes === "none" ? {} : { strokePattern: dashes.split(",").map(parseFloat) }];
    })),
    ...colours(),
    legend: "never", strokeWidth: 2.2, connectSeparatedPoints: true, highlightCircleSize: 4,
    xlabel: data.x_label, ylabel: data.y_label, valueRange: data.values, dateWindow: [least, most],
    axes: { x: { logscale: Boolean(data.log) }, y: { axisLabelWidth: 56 } },
    highlightCallback: (_event, x) => show(places.indexOf(x)),
    zoomCallback: () => tell(),
    interactionModel: {
      ...model,
      touchstart: twoFingers(model.touchstart), touchmove: twoFingers(model.touchmove),
      touchend: twoFingers(model.touchend),
      dblclick: () => all(),
      /* Whoever only scrolls past is not caught: the chart must be focused, or Ctrl be held. */
      wheel: event => {
        if (!event.ctrlKey && !figure.contains(document.activeElement)) return;
        event.preventDefault();
        zoom(event.deltaY < 0 ? 0.8 : 1.25, chart.toDataXCoord(chart.eventToDomCoords(event)[0]));
      },
    },
  });
  const look = (from, to) => {
    const all = !(scaled(to) - scaled(from) < (scaled(most) - scaled(least)) * (1 - 1e-9));
    chart.updateOptions(all ? { dateWindow: [least, most], valueRange: data.values }
                            : { dateWindow: [from, to] });
    tell();
  };
  const all = () => look(least, most);
  /* The place `about` stays where it is, unless an end of the curve is met. */
  const zoom = (factor, about) => {
    const [from, to] = chart.xAxisRange().map(scaled), whole = scaled(most) - scaled(least);
    const x = Math.max(from, Math.min(to, scaled(about)));
    const width = Math.max(whole / 200, Math.min(whole, factor * (to - from)));
    const start = x - width * (x - from) / (to - from);
    const fit = Math.max(scaled(least), Math.min(scaled(most) - width, start));
    look(back(fit), back(fit + width));
  };
  /* A place that is read by the keys comes into sight. */
  const reveal = x => {
    const [from, to] = chart.xAxisRange();
    if (x >= from && x <= to) return;
    const half = (scaled(to) - scaled(from)) / 2;
    const middle = Math.max(scaled(least) + half, Math.min(scaled(most) - half, scaled(x)));
    look(back(middle - half), back(middle + half));
  };
  matchMedia("(prefers-color-scheme: dark)")
    .addEventListener("change", () => chart.updateOptions(colours()));
  return {
    mark: i => {
      reveal(places[i]);
      chart.setSelection(xs.indexOf(places[i]));
    },
    zoom, all,
    range: () => {
      const [from, to] = chart.xAxisRange();
      const whole = scaled(most) - scaled(least);
      return scaled(to) - scaled(from) < whole * (1 - 1e-6) ? [from, to] : null;
    },
  };
};
