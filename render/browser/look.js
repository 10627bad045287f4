// What a browser sees of the drawing that is open, in millimetres of paper: see look in chrome_test.go.
(() => {
  const root = document.documentElement;
  if (root.localName !== "svg") {
    return { root: root.localName, broken: true };
  }
  const millimetre = 96 / 25.4;
  const toPaper = root.getScreenCTM().inverse();
  const on = (matrix, x, y) => {
    const p = new DOMPoint(x, y).matrixTransform(matrix);
    return [p.x, p.y];
  };
  // A font's box reaches above its capitals; what counts is where letters are.
  const above = 0.12;
  const texts = [...document.querySelectorAll("text")].map((element) => {
    const box = element.getBBox();
    const matrix = toPaper.multiply(element.getScreenCTM());
    const top = box.y + above * box.height, bottom = box.y + box.height;
    const left = box.x, right = box.x + box.width;
    return {
      text: element.textContent,
      corners: [[left, top], [right, top], [right, bottom], [left, bottom]].map(([x, y]) => on(matrix, x, y)),
    };
  });
  const number = "(-?[0-9.]+)";
  const straight = new RegExp(`^M${number} ?${number}l${number} ?${number}$`);
  const lines = [...document.querySelectorAll("path")].flatMap((element) => {
    const found = straight.exec(element.getAttribute("d"));
    const style = getComputedStyle(element);
    if (!found || style.stroke === "none" || style.strokeDasharray !== "none") {
      return [];
    }
    const [x1, y1, dx, dy] = found.slice(1).map(Number);
    const matrix = toPaper.multiply(element.getScreenCTM());
    return [[on(matrix, x1, y1), on(matrix, x1 + dx, y1 + dy)]];
  });
  const said = (attribute) => {
    const element = document.getElementById((root.getAttribute("aria-labelledby") ?? "").split(" ").find((id) => id.endsWith(attribute)));
    return element?.textContent ?? "";
  };
  return {
    root: "svg",
    title: said("title"), description: said("desc"),
    broken: document.querySelector("parsererror") !== null,
    width: root.width.baseVal.value / millimetre,
    height: root.height.baseVal.value / millimetre,
    texts, lines,
    scripts: document.querySelectorAll("script, foreignObject").length,
  };
})()
