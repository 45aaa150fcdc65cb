// Shows what was computed when the page was made. Every text and every place in the plot stands in the page's data; here is only
// decided which of them is shown, how long a bar is, and how the point walks along the regulated curve.
"use strict";
(function () {
  const root = document.documentElement;
  const one = (selector, within) => (within || document).querySelector(selector);
  const all = (selector, within) => Array.from((within || document).querySelectorAll(selector));
  // A page without zones or circulators has no states; units, colours and printing are switched all the same.
  const states = document.getElementById("states");
  const data = states ? JSON.parse(states.textContent) : null;

  const plots = all("svg.plot[data-pump]");
  const radios = all("input[name=state]");
  const zones = all(".zone");
  const choice = one("#pump");
  const calm = window.matchMedia("(prefers-reduced-motion: reduce)");

  let unit = root.dataset.units === "ip" ? 1 : 0;
  let listed = data ? data.present : null;
  let position = data ? data.listed[listed].position : 0;
  let walking = 0;

  const key = (open, outdoor) => open + "|" + outdoor;
  const numbers = new Map((data ? data.positions : []).map((state, number) => [key(state.open, state.outdoor), number]));

  // The state with one zone switched, in the same weather or else in the design's; none if it was not computed.
  function switched(zone) {
    if (!data.movable[zone]) return undefined;
    const state = data.positions[position];
    const other = state.open[zone] === "1" ? "0" : "1";
    const open = state.open.slice(0, zone) + other + state.open.slice(zone + 1);
    const found = numbers.get(key(open, state.outdoor));
    return found === undefined ? numbers.get(key(open, null)) : found;
  }

  const set = (element, text) => { if (element && element.textContent !== text) element.textContent = text; };

  function points(path) {
    return (path.getAttribute("d") || "").split(/[ML]/).filter(Boolean).map((pair) => pair.split(" ").map(Number));
  }

  // The height of a line at a place along it.
  function height(line, x) {
    for (let at = 1; at < line.length; at += 1) {
      const [a, b] = [line[at - 1], line[at]];
      if (a[0] <= x && x <= b[0]) return b[0] > a[0] ? a[1] + (x - a[0]) / (b[0] - a[0]) * (b[1] - a[1]) : b[1];
    }
    return undefined;
  }

  function put(plot, head, power) {
    const point = one(".point", plot);
    point.setAttribute("cx", head[0]);
    point.setAttribute("cy", head[1]);
    const low = one(".at-power", plot);
    low.setAttribute("cx", power[0]);
    low.setAttribute("cy", power[1]);
    one(".drop", plot).setAttribute("d", "M" + head[0] + " " + head[1] + "V" + power[1]);
    const label = one(".says", plot);
    // To the left above, where there is room for it: there the regulated curve lies below.
    const left = head[0] - label.getComputedTextLength() > 72;
    label.setAttribute("x", head[0] + (left ? -13 : 13));
    label.setAttribute("y", left ? Math.max(head[1] - 13, 46) : Math.min(head[1] + 26, 344));
    label.classList.toggle("end", left);
  }

  function walk(plot, to) {
    cancelAnimationFrame(walking);
    const point = one(".point", plot);
    const from = Number(point.getAttribute("cx"));
    const rest = () => { put(plot, to[0], to[1]); plot.dataset.rests = "true"; };
    if (!point.hasAttribute("cx") || calm.matches || !one(".here", plot).classList.contains("on")) return rest();
    const curves = [points(one(".regulated", plot)), points(one(".drawn", plot))];
    const began = performance.now();
    plot.dataset.rests = "false";
    const step = (now) => {
      const share = Math.min(1, Math.max(0, now - began) / 420);
      const eased = share * share * (3 - 2 * share);
      const x = from + (to[0][0] - from) * eased;
      const [head, power] = curves.map((curve) => height(curve, x));
      if (share >= 1 || head === undefined || power === undefined) return rest();
      put(plot, [x, head], [x, power]);
      walking = requestAnimationFrame(step);
    };
    walking = requestAnimationFrame(step);
  }

  function showPump(state, walks) {
    const number = choice ? Number(choice.value) : 0;
    plots.forEach((plot) => plot.classList.toggle("on", Number(plot.dataset.pump) === number));
    all(".legend").forEach((legend) => legend.classList.toggle("on", Number(legend.dataset.pump) === number));
    const pump = state.pumps[number];
    const plot = plots[number];
    if (!pump || !plot) return;
    set(one("#figure-flow"), pump.flow[unit]);
    set(one("#figure-head"), pump.head[unit]);
    set(one("#figure-speed"), pump.speed);
    set(one("#figure-power"), pump.power[unit]);
    set(one("#figure-governs"), pump.governs);
    set(one("#figure-total"), state.total[unit]);
    const says = [pump.says[unit], state.says[unit]].filter(Boolean).join(" ");
    set(one("#says"), says);
    set(one("desc", plot), [state.name, state.weather[unit], says].filter(Boolean).join(". "));
    one(".system", plot).setAttribute("d", pump.system);
    one(".regulated", plot).setAttribute("d", pump.regulated || data.regulated[number]);
    set(one(".says", plot), pump.flow[unit] + " at " + pump.head[unit]);
    all(".mark", plot).forEach((mark) => mark.classList.toggle("here-too", Number(mark.dataset.listed) === listed));
    if (pump.at) {
      if (walks) walk(plot, pump.at);
      else { cancelAnimationFrame(walking); put(plot, pump.at[0], pump.at[1]); plot.dataset.rests = "true"; }
    } else {
      cancelAnimationFrame(walking);
      plot.dataset.rests = "true";
    }
    one(".here", plot).classList.toggle("on", Boolean(pump.at));
  }

  function showZone(row, number, state) {
    const zone = state.zones[number];
    row.dataset.stands = zone.class;
    row.classList.toggle("worst", state.worst === number && zone.class !== "served");
    const box = one("input", row);
    box.checked = state.open[number] === "1";
    box.setAttribute("aria-disabled", String(switched(number) === undefined));
    set(one(".share", row), zone.class === "shut" ? "–" : zone.shown);
    set(one(".word", row), zone.word);
    const room = zone.room ? " · room " + zone.room[unit] : "";
    set(one(".amounts", row), zone.class === "shut" ? "no flow" :
      zone.flow[unit] + " · " + zone.heat[unit] + " (" + zone.heat_share + " of its load)" + room);
    const length = Math.min(1, Math.max(0, zone.share / data.scale));
    const fill = one(".fill", row);
    fill.style.width = 100 * (zone.class === "shut" ? 0 : length) + "%";
    row.classList.toggle("beyond", zone.share > data.scale);
    const band = one(".band", row);
    band.style.left = 100 * data.band[0] / data.scale + "%";
    band.style.width = 100 * (data.band[1] - data.band[0]) / data.scale + "%";
    one(".whole", row).style.left = 100 / data.scale + "%";
  }

  function show(walks) {
    if (!data) return;
    const state = data.positions[position];
    set(one("#state-name"), listed === null ? state.name : data.listed[listed].name);
    set(one("#state-weather"), state.weather[unit]);
    one("#answer").classList.toggle("does-not-stand", !state.stands);
    showPump(state, walks);
    zones.forEach((row, number) => showZone(row, number, state));
    radios.forEach((radio) => { radio.checked = Number(radio.value) === listed; });
  }

  function choose(number) {
    listed = number;
    position = data.listed[number].position;
    show(true);
  }

  radios.forEach((radio) => radio.addEventListener("change", () => choose(Number(radio.value))));
  plots.forEach((plot) => plot.addEventListener("click", (event) => {
    const mark = event.target.closest(".mark");
    if (mark) choose(Number(mark.dataset.listed));
  }));
  zones.forEach((row, number) => one("input", row).addEventListener("change", () => {
    const found = switched(number);
    if (found !== undefined) {
      position = found;
      const same = data.listed.findIndex((state) => state.position === found);
      listed = same < 0 ? null : same;
    }
    show(found !== undefined);
  }));
  if (choice) choice.addEventListener("change", () => show(false));

  const press = (buttons, pressed) => buttons.forEach((button) =>
    button.setAttribute("aria-pressed", String(button === pressed)));
  const unitButtons = all("[data-choose-units]");
  unitButtons.forEach((button) => button.addEventListener("click", () => {
    root.dataset.units = button.dataset.chooseUnits;
    unit = root.dataset.units === "ip" ? 1 : 0;
    press(unitButtons, button);
    show(false);
  }));
  const themeButtons = all("[data-choose-theme]");
  themeButtons.forEach((button) => button.addEventListener("click", () => {
    if (button.dataset.chooseTheme === "auto") delete root.dataset.theme;
    else root.dataset.theme = button.dataset.chooseTheme;
    press(themeButtons, button);
  }));
  one("#print").addEventListener("click", () => window.print());

  window.addEventListener("resize", () => show(false));
  root.classList.add("scripted");
  show(false);
})();
