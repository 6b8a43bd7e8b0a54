// A small curve of a pot’s counts: all that had come up by each day, and those
// of them that had died.

const drawing = { wide: 320, high: 92, left: 6, right: 54, top: 14, bottom: 8 };

function svg(tag, attributes, ...content) {
  const e = document.createElementNS(at("blank").namespaceURI, tag);
  for (const [name, value] of Object.entries(attributes)) e.setAttribute(name, value);
  e.append(...content);
  return e;
}

// curve draws the counts of a pot; "" where there are fewer than two days to
// draw between.
function curve(pot) {
  const counts = countsOf(pot.id).filter(c => c.up !== undefined);
  const days = counts.map(c => dayNumber(c.on));
  const from = pot.sown ? dayNumber(pot.sown) : days[0];
  const to = days.at(-1);
  if (counts.length === 0 || !(to > from)) return "";
  const most = Math.max(1, pot.seeds || 0, ...counts.map(c => c.up));
  const { wide, high, left, right, top, bottom } = drawing;
  const x = day => left + (day - from) / (to - from) * (wide - left - right);
  const y = n => high - bottom - n / most * (high - top - bottom);
  const points = of => [...pot.sown ? [[from, 0]] : [], ...counts.map((c, i) => [days[i], of(c)])];
  const line = (of, name) => svg("polyline", { class: name, points: points(of).map(([day, n]) => x(day).toFixed(1) + "," + y(n).toFixed(1)).join(" ") });
  const label = (n, text, name) => svg("text", { class: name, x: wide - right + 8, y: (y(n) + 4).toFixed(1) }, text);
  const last = counts.at(-1);
  const died = counts.some(c => c.died > 0);
  const far = died && Math.abs(y(last.up) - y(last.died)) > 14;
  const said = "counts: " + counts.map(c => c.on + ", " + c.up + " up" + (c.died ? ", " + c.died + " died" : "")).join("; ");
  return svg("svg", { class: "curve", viewBox: `0 0 ${wide} ${high}`, role: "img", "aria-label": said },
    ...pot.seeds ? [svg("line", { class: "sown", x1: left, x2: wide - right, y1: y(pot.seeds), y2: y(pot.seeds) })] : [],
    svg("line", { class: "ground", x1: left, x2: wide - right, y1: y(0), y2: y(0) }),
    line(c => c.up, "up"),
    ...counts.map((c, i) => svg("circle", { class: c.own ? "own" : "dot", cx: x(days[i]).toFixed(1), cy: y(c.up).toFixed(1), r: 4 })),
    ...died ? [line(c => c.died, "died")] : [],
    label(last.up, last.up + " up", "up"),
    ...far ? [label(last.died, last.died + " †", "died")] : []);
}

// dayNumber counts days, so that the days between dates can be told.
function dayNumber(date) {
  return Math.round(Date.parse(date + "T00:00:00Z") / 86400000);
}
