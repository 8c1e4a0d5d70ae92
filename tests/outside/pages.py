"""The pages as a browser prints them on A4: nothing clipped, dark on light, on few sheets; each drawing is valid SVG.

    python3 tests/outside/pages.py CHROMIUM MOST_SHEETS PAGE.html...

Measures in a copy of the page at the width of A4 less its margins. Drawings are parsed as XML, and rendered by
rsvg-convert where it is installed. Exit 1 where something does not fit.
"""

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET

chromium, most, pages = sys.argv[1], int(sys.argv[2]), sys.argv[3:]
WIDTH = 703  # 186 mm at 96 pixels an inch

LOOK = """
<script>
const wrong = [], light = c => { const v = c.map(x => { x /= 255; return x <= .03928 ? x / 12.92 : ((x + .055) / 1.055) ** 2.4 });
  return .2126 * v[0] + .7152 * v[1] + .0722 * v[2] };
const rgb = s => (s.match(/[\\d.]+/g) || [0, 0, 0]).map(Number);
const ground = e => { for (; e; e = e.parentElement) { const c = rgb(getComputedStyle(e).backgroundColor);
  if (c.length < 4 || c[3] > 0) return c.slice(0, 3) } return [255, 255, 255] };
const wide = document.documentElement.clientWidth;
let texts = 0;
for (const e of document.body.querySelectorAll('*')) {
  const box = e.getBoundingClientRect(), own = [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim());
  if (box.right > wide + 1 || box.left < -1) wrong.push(`beyond the page: ${e.tagName} ${e.textContent.slice(0, 40)}`);
  if (!e.closest('svg') && e.scrollWidth > e.clientWidth + 1 && e.clientWidth) wrong.push(`clipped: ${e.tagName} ${e.textContent.slice(0, 40)}`);
  if (!own || e.tagName === 'TITLE' || e.tagName === 'SCRIPT') continue;
  texts++;
  const style = getComputedStyle(e), ink = rgb(e.closest('svg') ? style.fill : style.color).slice(0, 3);
  const [a, b] = [light(ink), light(ground(e))].sort((x, y) => y - x);
  if ((a + .05) / (b + .05) < 7) wrong.push(`contrast: ${e.textContent.slice(0, 40)}`);
}
for (const svg of document.querySelectorAll('svg')) {
  const frame = svg.getBoundingClientRect(), all = [...svg.querySelectorAll('text')].map(t => [t.textContent.trim(), t.getBoundingClientRect()]);
  all.forEach(([told, box], i) => {
    if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1) wrong.push(`clipped in a drawing: ${told}`);
    for (const [other, b] of all.slice(i + 1))
      if (box.left < b.right - 1 && b.left < box.right - 1 && box.top < b.bottom - 1.5 && b.top < box.bottom - 1.5) wrong.push(`over each other: ${told} / ${other}`);
  });
}
document.body.replaceChildren(); document.body.dataset.found = JSON.stringify({texts, wrong});
</script>
"""


def run(*args):
    ran = subprocess.run([chromium, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", *args], capture_output=True, timeout=120)
    return ran.stdout.decode()


failed = 0
with tempfile.TemporaryDirectory() as folder:
    for page in pages:
        html = open(page, encoding="utf-8").read()
        wrong = []
        if re.search(r"<script|<link|https?://(?!www\.w3\.org/)", html):
            wrong.append("it fetches or runs something")
        drawings = re.findall(r"<svg.*?</svg>", html, re.S)
        for n, svg in enumerate(drawings):
            root = ET.fromstring(svg)
            if root.tag != "{http://www.w3.org/2000/svg}svg":
                wrong.append(f"drawing {n}: {root.tag} is no SVG")
            if shutil.which("rsvg-convert"):
                path = os.path.join(folder, "drawing.svg")
                open(path, "w", encoding="utf-8").write(svg)
                ran = subprocess.run(["rsvg-convert", "-f", "png", path], capture_output=True)
                if ran.returncode or not ran.stdout.startswith(b"\x89PNG") or ran.stderr:
                    wrong.append(f"drawing {n}: {ran.stderr.decode()}")
        copy = os.path.join(folder, "copy.html")
        # As printed, but on a screen, where it can be measured.
        printed = re.sub(r"@media print \{ (.*?\}) \}", r"\1", html)
        open(copy, "w", encoding="utf-8").write(printed.replace("</body>", LOOK + "</body>"))
        found = re.search(r'data-found="(.*?)"', run(f"--window-size={WIDTH},1000", "--dump-dom", "file://" + copy))
        found = json.loads(found[1].replace("&quot;", '"').replace("&amp;", "&"))
        wrong += found["wrong"]
        if found["texts"] < 20:
            wrong.append(f"only {found['texts']} texts")
        open(copy, "w", encoding="utf-8").write(html.replace("@page {", "@page { size: A4;"))
        pdf = os.path.join(folder, "page.pdf")
        run("--no-pdf-header-footer", f"--print-to-pdf={pdf}", "file://" + copy)
        sheets = len(re.findall(rb"/Type\s*/Page\b", open(pdf, "rb").read()))
        if not 1 <= sheets <= most:
            wrong.append(f"{sheets} sheets")
        print(f"{page}: {found['texts']} texts, {len(drawings)} drawings, {sheets} sheets of A4; {'; '.join(wrong) or 'all is well'}")
        failed += bool(wrong)
sys.exit(failed > 0)
