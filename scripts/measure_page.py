"""Measures the bench in a real browser: start, page weight, first paint, from key press to new drawing and numbers, memory.

Run after `cargo build --release`:  python3 scripts/measure_page.py [target/release/keepwright]
Needs Chromium and its driver on the path; takes half a minute. Numbers are of this machine, its browser drawing in software.
"""

import json
import re
import subprocess
import sys
import tempfile
import time
import urllib.request

PROGRAM = sys.argv[1] if len(sys.argv) > 1 else "target/release/keepwright"
# Boxes, each with a thickness in millimeters near which its walls can be made.
BOXES = {"stamp-chest": 12.0, "sewing-box": 11.0, "ring-boxes": 8.0, "tea-caddy": 11.0, "pencil-case": 9.0}
EDITS = 60

# Types a thickness and waits for the answer that carries it: the event of the new scene, after which the page is drawn.
EDIT = """
const done = arguments[0], value = arguments[1];
const field = document.querySelector("input[name='f:walls.thickness']");
const drawing = document.querySelector('[data-drawing]');
const begun = performance.now();
drawing.addEventListener('keepwright:scene', () => requestAnimationFrame(() => done(performance.now() - begun)), { once: true });
field.value = value;
field.dispatchEvent(new Event('input', { bubbles: true }));
""".replace("arguments[0]", "arguments[arguments.length - 1]").replace("arguments[1]", "arguments[0]")


def share(sorted_values, percent):
    return sorted_values[min(len(sorted_values) * percent // 100, len(sorted_values) - 1)]


class Driver:
    def __init__(self, profile):
        self.process = subprocess.Popen(["chromedriver", "--port=0"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        for line in self.process.stdout:
            found = re.search(r"successfully on port (\d+)", line)
            if found:
                self.at = f"http://127.0.0.1:{found.group(1)}"
                break
        flags = ["--headless=new", "--no-sandbox", "--disable-gpu", "--enable-unsafe-swiftshader", "--no-first-run",
                 "--disable-background-networking", f"--user-data-dir={profile}", "--window-size=1440,900"]
        caps = {"capabilities": {"alwaysMatch": {"goog:chromeOptions": {"args": flags}}}}
        self.session = self.post("/session", caps)["sessionId"]

    def post(self, path, body):
        request = urllib.request.Request(self.at + path, json.dumps(body).encode(), {"content-type": "application/json"})
        with urllib.request.urlopen(request, timeout=60) as answer:
            return json.load(answer)["value"]

    def do(self, path, body):
        return self.post(f"/session/{self.session}/{path}", body)

    def run(self, script, *args):
        return self.do("execute/sync", {"script": script, "args": list(args)})

    def until(self, script):
        for _ in range(400):
            if self.run(script) is True:
                return
            time.sleep(0.05)
        raise SystemExit(f"never: {script}")


def main():
    with tempfile.TemporaryDirectory() as folder, tempfile.TemporaryDirectory() as profile:
        begun = time.perf_counter()
        bench = subprocess.Popen([PROGRAM, "bench", "--port", "0", "--no-browser", "--folder", folder + "/shop"],
                                 stdout=subprocess.PIPE, text=True)
        address = re.search(r"http://[0-9.:]+", bench.stdout.readline()).group(0)
        print(f"start with a new demo workshop: {1000 * (time.perf_counter() - begun):.0f} ms")
        driver = Driver(profile)
        try:
            for box, near in BOXES.items():
                driver.do("url", {"url": f"{address}/boxes/{box}"})
                driver.until("return document.readyState === 'complete' && !document.querySelector('[data-stage]').hidden")
                paint = driver.run("return performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? -1")
                weight = driver.run("return [...performance.getEntriesByType('navigation'), ...performance.getEntriesByType('resource')]"
                                    ".reduce((all, e) => all + e.transferSize, 0)")
                took = sorted(
                    driver.do("execute/async", {"script": EDIT, "args": [f"{near + (7 * n + 1) % 9 / 10:.1f} mm"]})
                    for n in range(EDITS)
                )
                print(f"{box}: {weight / 1024:.0f} KiB loaded, first paint {paint:.0f} ms; key press to new drawing "
                      f"p50 {share(took, 50):.0f}, p95 {share(took, 95):.0f}, p99 {share(took, 99):.0f} ms")
            with open(f"/proc/{bench.pid}/status") as status:
                print("memory of the bench:", re.search(r"VmRSS:\s+(.*)", status.read()).group(1))
        finally:
            driver.process.kill()
            bench.kill()


main()
