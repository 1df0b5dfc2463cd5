"""Reads lines back from files: SVG by an XML parser, PDF by the drawing commands in its pages."""
import math
import re
import subprocess
import xml.etree.ElementTree as tree

SVG = "{http://www.w3.org/2000/svg}"


def distance(a, b):
    return math.hypot(a[0] - b[0], a[1] - b[1])


def area(points):
    """Positive where the points run clockwise with y down."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1])) / 2


def holds(points, p):
    inside = False
    for a, b in zip(points, points[1:] + points[:1]):
        if (a[1] > p[1]) != (b[1] > p[1]) and p[0] < (b[0] - a[0]) * (p[1] - a[1]) / (b[1] - a[1]) + a[0]:
            inside = not inside
    return inside


def edge_distance(points, p):
    least = math.inf
    for a, b in zip(points, points[1:] + points[:1]):
        dx, dy = b[0] - a[0], b[1] - a[1]
        t = max(0, min(1, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)))
        least = min(least, distance(p, (a[0] + t * dx, a[1] + t * dy)))
    return least


class Piece:
    """One part on one sheet: what is cut, scored and engraved of it."""

    def __init__(self, name):
        self.name = name
        self.outlines, self.holes, self.scores, self.hinges, self.marks = [], [], [], [], []
        self.letters = 0

    @property
    def outline(self):
        return self.outlines[0]

    def box(self):
        xs, ys = [p[0] for p in self.outline], [p[1] for p in self.outline]
        return min(xs), min(ys), max(xs), max(ys)


def path_runs(d):
    """The straight runs of a path that has M, L and Z only."""
    runs = []
    for run in re.findall(r"M[^M]*", d):
        numbers = [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", run)]
        runs.append(list(zip(numbers[::2], numbers[1::2])))
    return runs


def _read_shape(piece, kind, shape):
    if shape.tag == SVG + "circle":
        piece.holes.append(((float(shape.get("cx")), float(shape.get("cy"))), 2 * float(shape.get("r"))))
    elif shape.get("class") == "letters":
        piece.letters += 1
    else:
        into = {"cut": piece.outlines, "score": piece.scores, "engrave": piece.marks}[kind]
        into = piece.hinges if shape.get("class") == "hinge" else into
        into.extend(path_runs(shape.get("d")))


def read_sheet(path):
    """(width mm, height mm, the pieces) of a sheet; its user unit must be a mm."""
    root = tree.parse(path).getroot()
    width, height = (float(re.fullmatch(r"([\d.]+)mm", root.get(k)).group(1)) for k in ("width", "height"))
    assert [float(n) for n in root.get("viewBox").split()] == [0, 0, width, height]
    pieces = {}
    for group in root.findall(SVG + "g"):
        kind = group.get("id")
        for part in group.findall(SVG + "g"):
            number = part.get("id").rsplit("-", 1)[1]
            piece = pieces.setdefault(number, Piece(part.find(SVG + "title").text))
            for shape in part:
                if shape.tag != SVG + "title":
                    _read_shape(piece, kind, shape)
    return width, height, list(pieces.values())


# ---- PDF ----

MM = 25.4 / 72


def _multiply(a, b):
    return (a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2],
            a[2] * b[1] + a[3] * b[3], a[4] * b[0] + a[5] * b[2] + b[4], a[4] * b[1] + a[5] * b[3] + b[5])


class Stroke:
    def __init__(self, width, runs, dashed):
        self.width, self.runs, self.dashed = width, runs, dashed


class _Pen:
    def __init__(self, height):
        self.height = height
        self.matrix, self.width, self.dashed, self.kept = (1, 0, 0, 1, 0, 0), 1, False, []
        self.runs, self.strokes = [], []

    def point(self, x, y):
        m = self.matrix
        return ((m[0] * x + m[2] * y + m[4]) * MM, (self.height - (m[1] * x + m[3] * y + m[5])) * MM)

    def do(self, op, n):
        if op == "q":
            self.kept.append((self.matrix, self.width, self.dashed))
        elif op == "Q":
            self.matrix, self.width, self.dashed = self.kept.pop()
        elif op == "cm":
            self.matrix = _multiply(tuple(n[-6:]), self.matrix)
        elif op == "w":
            self.width = n[-1]
        elif op == "m":
            self.runs.append([self.point(*n[-2:])])
        elif op in ("l", "c"):
            self.runs[-1].append(self.point(*n[-2:]))
        elif op == "re":
            x, y, w, h = n[-4:]
            self.runs.append([self.point(x, y), self.point(x + w, y), self.point(x + w, y + h), self.point(x, y + h)])
        elif op in ("S", "s", "B", "b"):
            scale = math.sqrt(abs(self.matrix[0] * self.matrix[3] - self.matrix[1] * self.matrix[2]))
            self.strokes.append(Stroke(self.width * scale * MM, self.runs, self.dashed))
            self.runs = []
        elif op in ("f", "f*", "n"):
            self.runs = []


def read_strokes(data, height):
    """What a page's commands stroke, in mm from its upper left corner. Filled shapes and words are left out."""
    pen, numbers = _Pen(height), []
    data = re.sub(rb"BT.*?ET", b" ", data, flags=re.S)
    for token in re.findall(rb"\[[^\]]*\]|[^\s\[\]]+", data):
        if token.startswith(b"["):
            pen.dashed = token.strip(b"[] ") != b""
            continue
        try:
            numbers.append(float(token))
        except ValueError:
            pen.do(token.decode("latin-1"), numbers)
            numbers = []
    return pen.strokes


def read_pdf(path):
    """A list of strokes a page. The file is taken apart by qpdf."""
    plain = subprocess.run(["qpdf", "--qdf", "--object-streams=disable", path, "-"], stdout=subprocess.PIPE,
                           check=True).stdout
    objects = {int(n): body for n, body in re.findall(rb"\n(\d+) 0 obj\n(.*?)\nendobj", plain, flags=re.S)}
    pages = []
    for number in re.findall(rb"(\d+) 0 R", re.search(rb"/Kids \[(.*?)\]", plain, flags=re.S).group(1)):
        page = objects[int(number)]
        height = float(re.search(rb"/MediaBox \[\s*\S+\s+\S+\s+\S+\s+(\S+)", page).group(1))
        content = objects[int(re.search(rb"/Contents (\d+) 0 R", page).group(1))]
        stream = re.search(rb"stream\n(.*?)\nendstream", content, flags=re.S).group(1)
        pages.append(read_strokes(stream, height))
    return pages
