"""flipbook and animate: the files read back by outside tools."""
import os
import re
import subprocess
import sys
import tempfile

from program import call, demo, is_one_line
from tap import Tap


def run(*command):
    return subprocess.run(command, capture_output=True, text=True).stdout


def flipbook(tap):
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "flip.pdf")
        result = call("flipbook", demo("moth"), "-o", out, "--frames", "23")
        sound = subprocess.run(["qpdf", "--check", out], capture_output=True).returncode == 0
        pages = int(re.search(r"Pages: +(\d+)", run("pdfinfo", out)).group(1))
        tap.ok(result.status == 0 and result.err == "" and sound and pages == 4, "a page that says how, and three sheets of ten", (result, pages))
        # Cut: each place of all sheets in order, then the next place. The page numbers run through.
        numbers = []
        sheets = [run("pdftotext", "-bbox", "-f", str(p), "-l", str(p), out, "-") for p in (2, 3, 4)]
        words = [[(float(x), float(y), w) for x, y, w in re.findall(r'xMin="([\d.]+)" yMin="([\d.]+)"[^>]*>(\d+)</word>', s)]
                 for s in sheets]
        top, left, height, width = 34.0, 34.0, 151.2, 263.6
        for place in range(10):
            for sheet in words:
                x0, y0 = left + place % 2 * width, top + place // 2 * height
                numbers += [int(w) for x, y, w in sheet if x0 <= x < x0 + 60 and y0 <= y < y0 + height]
        tap.ok(numbers == list(range(1, 24)), "cut and stacked, the numbers run from 1 to 23", numbers)
        call("flipbook", demo("moth"), "-o", out, "--frames", "8", "--paper", "letter", "--view", "front")
        tap.ok("letter" in run("pdfinfo", out), "on Letter too")
        for options in (["--frames", "7"], ["--frames", "181"], ["--paper", "a9"], ["--view", "top"]):
            refused = call("flipbook", demo("moth"), "-o", os.path.join(folder, "no.pdf"), *options)
            tap.ok(refused.status == 2 and is_one_line(refused.err) and not os.path.exists(os.path.join(folder, "no.pdf")),
                   f"{' '.join(options)} is refused", refused)
        tap.ok(call("flipbook", demo("troubled"), "-o", out).status == 1, "what cannot go round is drawn, with status 1")


def animation(tap):
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "a.gif")
        result = call("animate", demo("heron"), "-o", out, "--width", "200", "--frames", "30")
        delays = [int(d) for d in run("identify", "-format", "%T ", out).split()]
        # 36 turns a minute: 166.67 hundredths of a second a turn.
        tap.ok(result.status == 0 and len(delays) == 30 and sum(delays) == 167 and max(delays) - min(delays) <= 1,
               "thirty frames that together take one turn's time", delays)
        first = run("identify", "-format", "%W %H\n", out).splitlines()[0].split()
        tap.ok(first[0] == "200" and 60 < int(first[1]) < 200, "of the width that was asked for", first)
        data = open(out, "rb").read()
        at = data.find(b"NETSCAPE2.0")
        tap.ok(data[:6] == b"GIF89a" and data[at + 11:at + 16] == b"\x03\x01\x00\x00\x00", "it loops for ever (GIF89a, NETSCAPE2.0, count 0)")
        call("animate", demo("heron"), "-o", out, "--width", "100", "--speed", "0.5")
        delays = [int(d) for d in run("identify", "-format", "%T ", out).split()]
        tap.ok(sum(delays) == 333, "at half the speed it takes twice as long", sum(delays))
        for options in (["--width", "79"], ["--frames", "1"], ["--frames", "0"], ["--frames", "200"], ["--speed", "0"], ["--speed", "nan"],
                        ["--view", "top"]):
            refused = call("animate", demo("heron"), "-o", os.path.join(folder, "no.gif"), *options)
            tap.ok(refused.status == 2 and is_one_line(refused.err) and not os.path.exists(os.path.join(folder, "no.gif")),
                   f"{' '.join(options)} is refused", refused)
        tap.ok(call("animate", demo("troubled"), "-o", out, "--width", "80").status == 1, "what cannot go round is drawn, with status 1")
        full = call("animate", demo("heron"), "-o", "/dev/full")
        tap.ok(full.status == 2 and is_one_line(full.err), "only a file is written to", full)


if __name__ == "__main__":
    sys.exit(Tap().run([flipbook, animation]))
