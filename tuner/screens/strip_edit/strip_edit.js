// The program strip as a thing to take hold of: levels are pulled up and down, stage edges sideways, numbers typed beside it.
// Everything snaps to the oven's own steps. The page gets each changed program through setStateValue("program", ...).

const HALF_PX = 90;        // height of 100 % above and below the ink line
const SEND_EVERY_MS = 120; // at most one message to the page in this time
const BANDS = [
  { css: "air", field: "air_speed_pct", name: "air speed", sign: "▲", up: 1 },
  { css: "microwave", field: "microwave_pct", name: "microwave", sign: "▼", up: -1 },
];

function element(tag, css, text) {
  const made = document.createElement(tag);
  if (css) made.className = css;
  if (text !== undefined) made.textContent = text;
  if (tag === "button") made.type = "button";
  return made;
}

const plain = value => String(+value.toFixed(6));
const typedNumber = text => { const t = text.trim().replace(",", "."); return /^-?\d+(\.\d*)?$|^-?\.\d+$/.test(t) ? parseFloat(t) : NaN; };
const clock = seconds => `${Math.floor(Math.round(seconds) / 60)}:${String(Math.round(seconds) % 60).padStart(2, "0")}`;

/** The settable value nearest to `value`: counted in steps from `low`, the last step not above `high`. */
function snapped(value, setting) {
  if (!setting.step) return setting.low;
  const last = Math.floor((setting.high - setting.low) / setting.step + 1e-6);
  const index = Math.min(last, Math.max(0, Math.round((value - setting.low) / setting.step)));
  return +(setting.low + index * setting.step).toFixed(9);
}

/** Whole seconds of each stage by largest remainder (ties: the earlier stage); they add up to the duration. */
function stageSeconds(program) {
  const whole = Math.floor(program.duration_s);
  const exact = program.stages.map(stage => whole * stage.share_pct / 100);
  const seconds = exact.map(value => Math.floor(value + 1e-9));
  const missing = whole - seconds.reduce((sum, value) => sum + value, 0);
  exact.map((value, i) => [value - seconds[i], i]).sort((a, b) => b[0] - a[0] || a[1] - b[1]).slice(0, missing).forEach(([, i]) => seconds[i]++);
  seconds[seconds.length - 1] += program.duration_s - whole;
  return seconds;
}

class StripEdit {
  constructor(root, component) {
    this.root = root;
    this.takeOver(component);
    this.token = component.data.token;
    this.oven = component.data.oven;
    this.before = component.data.program;
    this.program = structuredClone(component.data.program);
    this.chosen = this.program.stages.length - 1;
    this.lastSent = 0;
    this.build(component.data.hint);
    root.scrollIntoView({ block: "nearest" });
  }

  /** A rerun of the page only hands over a new sender; a drag in progress goes on. */
  takeOver(component) { this.sender = component.setStateValue; }

  send() {
    clearTimeout(this.timer);
    const go = () => { this.lastSent = Date.now(); this.sender("program", structuredClone(this.program)); };
    const wait = SEND_EVERY_MS - (Date.now() - this.lastSent);
    if (wait <= 0) go(); else this.timer = setTimeout(go, wait);
  }

  changed() { this.draw(); this.send(); }

  // ---- what can be done to the program ----
  setLevel(i, field, value) {
    const to = snapped(value, this.oven[field]);
    if (to !== this.program.stages[i][field]) { this.program.stages[i][field] = to; this.changed(); }
  }

  /** Move the end of stage `i` to `percent` of the time; its neighbour gives or takes. */
  setEdge(i, percent) {
    const stages = this.program.stages, step = this.oven.share_step_pct;
    const start = this.edgeAt(i - 1), both = stages[i].share_pct + stages[i + 1].share_pct;
    const share = Math.min(both - step, Math.max(step, Math.round((percent - start) / step) * step));
    if (share === stages[i].share_pct || share < step) return;
    stages[i].share_pct = +share.toFixed(6);
    stages[i + 1].share_pct = +(both - share).toFixed(6);
    this.changed();
  }

  edgeAt(i) { return this.program.stages.slice(0, i + 1).reduce((sum, stage) => sum + stage.share_pct, 0); }

  setShare(value) {
    const i = this.chosen, last = this.program.stages.length - 1;
    if (i < last) this.setEdge(i, this.edgeAt(i - 1) + value);
    else if (i > 0) this.setEdge(i - 1, 100 - value);
  }

  setWhole(field, value) {
    const to = snapped(value, this.oven[field]);
    if (to !== this.program[field]) { this.program[field] = to; this.changed(); }
  }

  get canSplit() {
    return this.program.stages.length < this.oven.max_stages && this.program.stages[this.chosen].share_pct >= 2 * this.oven.share_step_pct;
  }

  split() {
    const stage = this.program.stages[this.chosen], step = this.oven.share_step_pct;
    const first = Math.max(step, Math.round(stage.share_pct / 2 / step) * step);
    this.program.stages.splice(this.chosen, 1, { ...stage, share_pct: first }, { ...stage, share_pct: +(stage.share_pct - first).toFixed(6) });
    this.rebuild(`Stage ${this.chosen + 1} was split.`);
  }

  join() {
    const stages = this.program.stages, into = this.chosen < stages.length - 1 ? this.chosen : this.chosen - 1;
    const both = +(stages[into].share_pct + stages[into + 1].share_pct).toFixed(6);
    stages.splice(into, 2, { ...stages[this.chosen], share_pct: both });
    this.chosen = into;
    this.rebuild(`Two stages became stage ${into + 1}.`);
  }

  rebuild(words) { this.build(words); this.send(); this.feet.children[this.chosen].focus(); }

  // ---- taking hold ----
  drag(handle, begin) {
    let move = null;
    handle.onpointerdown = event => { handle.setPointerCapture(event.pointerId); move = begin(event); handle.focus(); event.preventDefault(); };
    handle.onpointermove = event => { if (move) move(event); };
    handle.onpointerup = handle.onpointercancel = () => { move = null; };
  }

  keys(handle, step, by, to, low, high) {
    const steps = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 4, PageDown: -4 };
    handle.onkeydown = event => {
      if (steps[event.key]) by(steps[event.key] * step);
      else if (event.key === "Home") to(low);
      else if (event.key === "End") to(high);
      else return;
      event.preventDefault();
    };
  }

  slider(css, label, low, high, vertical) {
    const handle = element("button", css);
    for (const [name, value] of Object.entries({ role: "slider", "aria-label": label, "aria-valuemin": low, "aria-valuemax": high, "aria-orientation": vertical ? "vertical" : "horizontal" }))
      handle.setAttribute(name, value);
    return handle;
  }

  // ---- building ----
  build(words) {
    const bars = element("div", "bars"), rail = element("div", "rail");
    this.head = element("div", "head");
    this.feet = element("div", "feet");
    this.note = element("p", "say", words);
    this.note.setAttribute("role", "status");
    this.bars = bars;
    this.cells = this.program.stages.map((_, i) => this.stageCell(i));
    bars.append(...this.cells.map(cell => cell.box));
    rail.append(element("div", "line"));
    this.edges = this.program.stages.slice(1).map((_, i) => this.edgeRing(i, rail));
    this.program.stages.forEach((_, i) => {
      const foot = element("button");
      foot.onclick = () => { this.chosen = i; this.draw(); };
      this.feet.append(foot);
    });
    this.root.replaceChildren(this.head, bars, rail, this.feet, this.note, this.numberFields());
    this.draw();
  }

  stageCell(i) {
    const box = element("div", "stage"), cell = { box, bars: {}, levels: {} };
    box.append(element("div", "plate"));
    for (const band of BANDS) {
      const setting = this.oven[band.field], bar = element("div", `bar ${band.css}`);
      const handle = this.slider(`level ${band.css}${setting.step ? "" : " fixed"}`, `Stage ${i + 1}, ${band.name}`, setting.low, setting.high, true);
      handle.dataset.handle = `${band.css}-${i + 1}`;
      this.drag(handle, start => {
        const from = this.program.stages[i][band.field];
        this.chosen = i;
        this.draw();
        return event => this.setLevel(i, band.field, from + band.up * (start.clientY - event.clientY) / HALF_PX * 100);
      });
      this.keys(handle, setting.step ?? 0, by => this.setLevel(i, band.field, this.program.stages[i][band.field] + by), to => this.setLevel(i, band.field, to), setting.low, setting.high);
      handle.onfocus = () => { if (this.chosen !== i) { this.chosen = i; this.draw(); } };
      box.append(bar);
      if (this.before.stages.length === this.program.stages.length) {
        const dashed = element("div", "before");
        dashed.style.top = `calc(50% - ${band.up * this.before.stages[i][band.field] / 100 * HALF_PX}px)`;
        box.append(dashed);
      }
      box.append(handle);
      cell.bars[band.css] = bar;
      cell.levels[band.css] = handle;
    }
    box.append(element("div", "line"));
    return cell;
  }

  edgeRing(i, rail) {
    const step = this.oven.share_step_pct, ring = this.slider("edge", `End of stage ${i + 1}`, step, 100 - step, false);
    ring.textContent = "↔";
    ring.dataset.handle = `edge-${i + 1}`;
    this.drag(ring, start => {
      const from = this.edgeAt(i), width = rail.clientWidth;
      return event => this.setEdge(i, from + (event.clientX - start.clientX) / width * 100);
    });
    this.keys(ring, step, by => this.setEdge(i, this.edgeAt(i) + by), to => this.setEdge(i, to), 0, 100);
    rail.append(ring);
    return ring;
  }

  numberFields() {
    const more = element("details"), numbers = element("div", "numbers");
    const stage = element("div", "group"), whole = element("div", "group");
    this.stageHead = element("b");
    stage.append(this.stageHead);
    whole.append(element("b", "", "Whole program"));
    this.fields = [
      [stage, "share", "share of the time, %", () => this.program.stages[this.chosen].share_pct, value => this.setShare(value)],
      ...BANDS.map(band => [stage, band.css, `${band.sign} ${band.name}, %`, () => this.program.stages[this.chosen][band.field], value => this.setLevel(this.chosen, band.field, value)]),
      [whole, "temperature", "air, °C", () => this.program.air_temperature_c, value => this.setWhole("air_temperature_c", value)],
      [whole, "duration", "duration, s", () => this.program.duration_s, value => this.setWhole("duration_s", value)],
    ].map(entry => this.numberField(...entry));
    this.splitButton = element("button", "act", "Split this stage");
    this.joinButton = element("button", "act", "Join with its neighbour");
    this.splitButton.onclick = () => this.split();
    this.joinButton.onclick = () => this.join();
    const stages = element("div", "group");
    stages.append(element("b", "", "Stages"), this.splitButton, this.joinButton);
    numbers.append(stage, whole, stages);
    more.append(element("summary", "", "Type the numbers"), numbers);
    more.open = this.root.clientWidth > 640;
    return more;
  }

  numberField(group, name, text, get, set) {
    const label = element("label", "", text), input = element("input");
    input.inputMode = "decimal";
    input.autocomplete = "off";
    input.dataset.field = name;
    label.append(input);
    group.append(label);
    const take = () => {
      const value = typedNumber(input.value);
      if (Number.isNaN(value)) this.say(`Not a number: ${input.value}`);
      else {
        set(value);
        this.say(Math.abs(get() - value) < 1e-6 ? "" : `${plain(value)} is not one of this oven's steps: ${plain(get())} taken`);
      }
      input.value = plain(get());
    };
    input.onchange = take;
    return { input, get };
  }

  say(words) { this.note.textContent = words; }

  // ---- drawing ----
  draw() {
    const { program } = this, seconds = stageSeconds(program);
    const columns = program.stages.map(stage => `minmax(0,${stage.share_pct}fr)`).join(" ");
    this.bars.style.gridTemplateColumns = this.feet.style.gridTemplateColumns = columns;
    this.cells.forEach((cell, i) => this.drawStage(cell, program.stages[i], i));
    this.edges.forEach((ring, i) => {
      const at = this.edgeAt(i);
      ring.style.left = `${at}%`;
      ring.setAttribute("aria-valuenow", at);
      ring.setAttribute("aria-valuetext", `${plain(at)} percent of the time`);
    });
    [...this.feet.children].forEach((foot, i) => {
      const share = plain(program.stages[i].share_pct);
      foot.replaceChildren(element("b", "", `${share} %`), document.createTextNode(" "), element("small", "", `${plain(seconds[i])} s`));
      foot.classList.toggle("chosen", i === this.chosen);
      foot.setAttribute("aria-label", `Stage ${i + 1}: ${share} % ${plain(seconds[i])} s`);
      foot.setAttribute("aria-pressed", String(i === this.chosen));
    });
    this.head.replaceChildren(element("b", "", `${plain(program.air_temperature_c)} °C · ${clock(program.duration_s)} min`), element("small", "", "dashed: as it was"));
    this.stageHead.textContent = `Stage ${this.chosen + 1} of ${program.stages.length}`;
    this.splitButton.disabled = !this.canSplit;
    this.joinButton.disabled = program.stages.length < 2;
    const active = this.root.getRootNode().activeElement;
    for (const { input, get } of this.fields) if (input !== active) input.value = plain(get());
  }

  drawStage(cell, stage, i) {
    cell.box.classList.toggle("chosen", i === this.chosen);
    for (const band of BANDS) {
      const height = stage[band.field] / 100 * HALF_PX, handle = cell.levels[band.css];
      cell.bars[band.css].style.height = `${height}px`;
      handle.style[band.up > 0 ? "bottom" : "top"] = `calc(50% + ${height}px)`;
      handle.textContent = `${band.sign} ${plain(stage[band.field])}`;
      handle.setAttribute("aria-valuenow", stage[band.field]);
      handle.setAttribute("aria-valuetext", `${plain(stage[band.field])} percent`);
    }
  }
}

export default function (component) {
  const root = component.parentElement.querySelector(".strip-edit");
  if (root.editor && root.editor.token === component.data.token) root.editor.takeOver(component);
  else root.editor = new StripEdit(root, component);
}
