"""templates: lengths read back from the files that it writes."""
import glob
import math
import os
import re
import shutil
import subprocess
import sys
import tempfile

from program import CLEAN_DEMOS, DEMOS, EXAMPLE, call, call_on, demo, is_one_line, named, read_demo
from tap import Tap
from vectors import MM, area, distance, edge_distance, holds, read_pdf, read_sheet

TRUE_TO = 0.05  # mm
CLEARANCE = 0.3  # beyond the rod's diameter, as docs/templates.md has it
OVERLAP = 12
# ISO 216: A4, A3. Letter and tabloid: 8 1/2 x 11 and 11 x 17 in.
PAPERS = {"a4": (210, 297), "a3": (297, 420), "letter": (215.9, 279.4), "tabloid": (279.4, 431.8)}


def write(folder, name, design, *options):
    path = os.path.join(folder, name)
    result = call("templates", demo(design), "-o", path, *options) if isinstance(design, str) \
        else call_on(design, "templates", "-o", path, *options)
    return path, result


def sheets_of(path):
    stem = path[:-len(".svg")]
    return [path] if os.path.exists(path) else sorted(glob.glob(glob.escape(stem) + "-*.svg"))


def pieces_of(path):
    return [piece for sheet in sheets_of(path) for piece in read_sheet(sheet)[2]]


def piece(pieces, name):
    return next(p for p in pieces if p.name.endswith(name))


def worst_of_shape(found, expected):
    """The greatest difference of any distance between two corners."""
    if len(found) != len(expected):
        return math.inf
    return max(abs(distance(found[i], found[k]) - distance(expected[i], expected[k]))
               for i in range(len(found)) for k in range(i))


def worst_of_place(outline, point, expected_outline, expected_point):
    return max(abs(distance(point, a) - distance(expected_point, b)) for a, b in zip(outline, expected_outline))


def plain(design):
    """Without stock, so that the sheets are those asked for."""
    design.pop("stock", None)
    design["crank"].pop("build", None)
    return design


def panels_come_out_true(tap):
    design = plain(read_demo("heron"))
    with tempfile.TemporaryDirectory() as folder:
        path, result = write(folder, "h.svg", design, "--sheet", "700x500")
        tap.ok(result.status == 0 and result.err == "", "the heron's sheets are written without a word", result)
        pieces = pieces_of(path)
        for name, rod, at in (("arm", "arm-rod", (114, 0)), ("tip", "tip-rod", (76, 0))):
            panel = named(design["panels"], name)
            wanted = [tuple(p) for p in panel["outline"]]
            for side in ("right", "left"):
                found = piece(pieces, f"{name}.{side}")
                tap.near([worst_of_shape(found.outline, wanted)], [0], TRUE_TO, f"{name}.{side}: every corner is where the design has it")
                # v up the page: a right-hand outline keeps its sense as seen from above, a left-hand one turns it.
                same = (area(found.outline) > 0) == (area([(u, -v) for u, v in wanted]) > 0)
                tap.ok(same == (side == "right"), f"{name}.{side}: the left one is the mirror image, the right one is not")
                (centre, diameter), = found.holes
                tap.near([worst_of_place(found.outline, centre, wanted, at)], [0], TRUE_TO, f"{name}.{side}: the rod's hole is where the rod holds")
                tap.near([diameter], [named(design["rods"], rod)["diameter"] + CLEARANCE], TRUE_TO, f"{name}.{side}: the hole takes the rod")
                (a, b), = found.hinges
                ends = sorted((wanted[0], wanted[-1]), key=lambda p: -p[1])
                worst = min(max(worst_of_place(found.outline, p, wanted, q) for p, q in zip(pair, ends)) for pair in ((a, b), (b, a)))
                tap.near([worst], [0], TRUE_TO, f"{name}.{side}: the hinge line lies on the root edge, from end to end")
                inside = all(holds(found.outline, p) or edge_distance(found.outline, p) < 0.01 for run in found.scores for p in run)
                tap.ok(len(found.scores) > 4 and inside, f"{name}.{side}: score lines stay on the panel", found.scores)


def sweep_turns_the_hinge_line(tap):
    design = plain(read_demo("moth"))
    named(design["panels"], "fore").update(sweep=15, outline=[[-20, 40], [90, 40], [90, -40], [-20, -40]], span=90)
    with tempfile.TemporaryDirectory() as folder:
        path, result = write(folder, "m.svg", design)
        found = piece(pieces_of(path), "fore.right")
        (a, b), = found.hinges
        wanted = [(-20, 40), (90, 40), (90, -40), (-20, -40)]
        # Through the frame's origin along (sin s, cos s): model.md, section 3, without cant.
        worst = max(min(abs(worst_of_place(found.outline, p, wanted, (t * math.sin(math.radians(15)), t * math.cos(math.radians(15)))))
                        for t in (x / 500 for x in range(-30000, 30000))) for p in (a, b))
        tap.near([worst], [0], TRUE_TO, "a swept hinge line goes through the hinge point at the sweep")
        tap.near([distance(a, b)], [80 / math.cos(math.radians(15))], TRUE_TO, "and runs across the panel from edge to edge")


def gauges_come_out_true(tap):
    design = plain(read_demo("heron"))
    with tempfile.TemporaryDirectory() as folder:
        path, _ = write(folder, "h.svg", design, "--sheet", "700x500")
        pieces = pieces_of(path)
        rods = piece(pieces, "Rod gauge")
        for rod in design["rods"]:
            size = rod["diameter"] + CLEARANCE
            apart = [distance(a, b) for a, d in rods.holes for b, e in rods.holes if abs(d - size) < 1e-3 and abs(e - size) < 1e-3]
            tap.near([min(abs(x - rod["length"]) for x in apart)], [0], TRUE_TO, f"rod gauge: two holes stand {rod['length']} mm apart for {rod['name']}")
        disc = piece(pieces, "Phase gauge")
        (centre, bore), = disc.holes
        tap.near([bore], [design["crank"]["diameter"] + CLEARANCE], TRUE_TO, "phase gauge: the bore takes the crank")
        reach = [distance(centre, p) for p in disc.outline]
        rim = max(reach)
        notches = sorted(math.degrees(math.atan2(p[0] - centre[0], centre[1] - p[1])) % 360
                         for p, r in zip(disc.outline, reach) if r < rim - 2)
        wanted = sorted(t["phase"] % 360 for t in design["crank"]["throws"])
        turned = [sorted((w + quarter) % 360 for w in wanted) for quarter in (0, 90)]
        worst = min(max(min(abs(a - b), 360 - abs(a - b)) for a, b in zip(notches, w)) for w in turned)
        tap.near([len(notches), worst], [3, 0], 0.05, "phase gauge: a notch at each phase, clockwise from up")
        tap.ok(all(abs(r - rim) < TRUE_TO for r in reach if r > rim - 1), "phase gauge: round between the notches")
        largest = max(t["radius"] for t in design["crank"]["throws"])
        tap.ok(rim > largest + 3, "phase gauge: it reaches beyond the largest throw", rim)
        for throw in design["crank"]["throws"]:
            marks = [(a, b) for run in disc.marks for a, b in zip(run, run[1:])
                     if abs(distance(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), centre) - throw["radius"]) < TRUE_TO
                     and abs((b[0] - a[0]) * (a[0] - centre[0]) + (b[1] - a[1]) * (a[1] - centre[1])) < 0.5 * distance(a, b) ** 2 + 0.1]
            tap.ok(len(marks) >= 1, f"phase gauge: a mark at the radius of {throw['name']}, {throw['radius']} mm", len(marks))


def wedges_have_their_angles(tap):
    design = plain(read_demo("heron"))
    with tempfile.TemporaryDirectory() as folder:
        path, _ = write(folder, "h.svg", design, "--sheet", "700x500")
        pieces = pieces_of(path)
        for panel in design["panels"]:
            sides = 2 if panel["side"] == "both" else 1
            for name, stop in (("lower", -panel["stops"][0]), ("upper", panel["stops"][1])):
                found = [p for p in pieces if p.name.endswith(f"{panel['name']}, {name} stop wedge")]
                tap.ok(len(found) == 2 * sides, f"{panel['name']}: two {name} wedges a hinge", len(found))
                o, a, _, b = found[0].outline
                angle = math.degrees(math.acos(((a[0] - o[0]) * (b[0] - o[0]) + (a[1] - o[1]) * (b[1] - o[1]))
                                               / distance(o, a) / distance(o, b)))
                # Between the carrying face, behind the hinge, and the panel raised by the stop.
                tap.near([angle], [180 - stop], 0.02, f"{panel['name']}: the {name} wedge has 180 degrees less the stop")


def plate_is_drilled_where_things_stand(tap):
    design = plain(read_demo("heron"))
    with tempfile.TemporaryDirectory() as folder:
        path, _ = write(folder, "h.svg", design, "--sheet", "700x500")
        plate = piece(pieces_of(path), "Base plate")
        x0, y0, x1, y1 = plate.box()
        tap.near([x1 - x0, y1 - y0], design["base"]["plate"][:2], TRUE_TO, "the base plate has the design's size")
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        found = sorted((h[0][0] - middle[0], middle[1] - h[0][1]) for h in plate.holes)
        timber, largest = 1.3 * 10, 73
        leg = 0.5 * 96 + timber  # half the height of the axis, and the timber
        column = -(largest + 10 + 14 + 0.8 * timber)  # behind the swing
        half = 1.5 * 12 + timber / 2
        wanted = sorted([(s, side * leg) for s in design["base"]["bearings"] for side in (-1, 1)]
                        + [(-half, column), (half, column), (0, 90)])
        tap.ok(len(found) == len(wanted), "a hole for each bearing's two legs, two columns and one foot", found)
        tap.near([c for p in found for c in p], [c for p in wanted for c in p], TRUE_TO, "every hole is where its timber stands")


def nothing_overlaps(tap):
    for name in CLEAN_DEMOS:
        with tempfile.TemporaryDirectory() as folder:
            path, result = write(folder, "x.svg", name)
            clear, within, copies = [], [], 0
            for sheet in sheets_of(path):
                width, height, pieces = read_sheet(sheet)
                boxes = [p.box() for p in pieces]
                copies += len(pieces)
                within += [min(b[0], b[1], width - b[2], height - b[3]) for b in boxes]
                clear += [max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3]) for i, a in enumerate(boxes) for b in boxes[:i]]
            tap.ok(result.status == 0 and copies > 5 and min(clear) >= 3 - TRUE_TO and min(within) >= 5 - TRUE_TO,
                   f"{name}: parts keep 3 mm from each other and 5 mm from the sheet's edge", (result, min(clear), min(within)))
            kinds = [re.search(r": ([^:]*)$", open(s, encoding="utf-8").read().split("<title>")[1].split("</title>")[0]).group(1) for s in sheets_of(path)]
            tap.ok(all(kinds) and len(set(kinds)) >= 2, f"{name}: each sheet names the material it is cut from", kinds)


def grain_of_the_stock_is_kept(tap):
    design = plain(read_demo("heron"))
    for grain, turned in (("width", False), ("height", True)):
        design["stock"] = {"sheets": [{"name": "card", "material": "kraft card", "thickness": 2, "width": 500,
                                       "height": 700, "grain": grain}]}
        with tempfile.TemporaryDirectory() as folder:
            path, result = write(folder, "g.svg", design)
            sizes = {read_sheet(s)[:2] for s in sheets_of(path)}
            found = piece(pieces_of(path), "tip.right")
            x0, y0, x1, y1 = found.box()
            tap.ok(result.status == 0 and (500, 700) in sizes, f"grain along the {grain}: the stock's sheet is used", (result, sizes))
            tap.near([x1 - x0, y1 - y0], [180, 240] if turned else [240, 180], TRUE_TO, f"grain along the {grain}: the span lies along it")
    design["stock"]["sheets"][0]["count"] = 0
    with tempfile.TemporaryDirectory() as folder:
        path, result = write(folder, "g.svg", design)
        tap.ok(result.status == 1 and is_one_line(result.err) and "card" in result.err and len(sheets_of(path)) >= 2,
               "too few sheets in stock: all is written, one line tells, status 1", result)


def what_does_not_fit_is_told(tap):
    with tempfile.TemporaryDirectory() as folder:
        path, result = write(folder, "s.svg", plain(read_demo("heron")), "--sheet", "300x200")
        names = {p.name for p in pieces_of(path)}
        tap.ok(result.status == 1 and is_one_line(result.err) and "300 mm" in result.err and any("tip.right" in n for n in names)
               and not any("Base plate" in n for n in names),
               "a part larger than the sheet is named in one line, the others are written, status 1", (result, names))
        path, result = write(folder, "n.svg", plain(read_demo("heron")), "--sheet", "25x25")
        tap.ok(result.status == 2 and is_one_line(result.err) and not sheets_of(path), "if nothing fits nothing is written, status 2", result)
        huge = plain(read_demo("heron"))
        huge["base"]["plate"] = [90000, 90000, 18]
        path, result = write(folder, "huge.pdf", huge)
        tap.ok(result.status == 1 and is_one_line(result.err) and "Base plate" in result.err and os.path.exists(path),
               "a plate of thousands of pages is left out of the PDF, with one line", result)
        path, result = write(folder, "one.pdf", huge, "--paper", "one")
        tap.ok(result.status == 1 and is_one_line(result.err) and os.path.exists(path), "and out of one sheet, which ends at 5 m", result)


def all_sheets_or_none(tap):
    with tempfile.TemporaryDirectory() as folder:
        os.mkdir(os.path.join(folder, "o-2.svg"))
        with open(os.path.join(folder, "o-1.svg"), "w", encoding="utf-8") as file:
            file.write("before")
        _, result = write(folder, "o.svg", "heron")
        with open(os.path.join(folder, "o-1.svg"), encoding="utf-8") as file:
            kept = file.read()
        tap.ok(result.status == 2 and is_one_line(result.err) and "o-2.svg" in result.err, "a sheet that cannot be written is named, status 2", result)
        tap.ok(kept == "before" and sorted(os.listdir(folder)) == ["o-1.svg", "o-2.svg"],
               "what stood there before is back, and nothing else is left", (kept, os.listdir(folder)))
        path, result = write(os.path.join(folder, "none"), "o.pdf", "heron")
        tap.ok(result.status == 2 and is_one_line(result.err) and not os.path.exists(path), "a folder that is not there is refused", result)


def names_of_the_world(tap):
    design = plain(read_demo("moth"))
    design["title"] = "Moth <&> \"蛾\" Ночь\u0001"
    wing = 'aile <é> & "翼" ω'
    named(design["panels"], "fore")["name"] = wing
    named(design["rods"], "fore-rod")["to"]["panel"] = wing
    with tempfile.TemporaryDirectory() as folder:
        path, result = write(folder, "w.svg", design)
        sheets = sheets_of(path)
        checked = [subprocess.run(["xmllint", "--noout", "--nonet", s], stderr=subprocess.PIPE) for s in sheets]
        tap.ok(result.status == 0 and sheets and all(c.returncode == 0 and not c.stderr for c in checked),
               "names with <, >, &, quotes and other scripts give well-formed XML", (result, checked))
        names = [p.name for p in pieces_of(path)]
        tap.ok(any(n.endswith(wing + ".right") for n in names), "and come out as they are", names)
        letters = piece(pieces_of(path), wing + ".right").letters
        tap.ok(letters > 0, "letters are paths", letters)
        for sheet in sheets:
            with open(sheet, encoding="utf-8") as file:
                text = file.read()
            tap.ok("<text" not in text and "inkscape" not in text and text.count("<g id=\"cut\"") == 1
                   and text.index("\"engrave\"") < text.index("\"score\"") < text.index("\"cut\""),
                   f"{os.path.basename(sheet)}: engrave, score and cut are groups of their own, in this order, without text elements")
        pdf, result = write(folder, "w.pdf", design)
        words = subprocess.run(["pdftotext", pdf, "-"], stdout=subprocess.PIPE, check=True).stdout.decode()
        tap.ok(result.status == 0 and "Ночь" in words and "ω" in words, "the PDF says them too", result)


# ---- Paper ----

def is_true(a, b):
    return abs(a - b) <= TRUE_TO


def squares(strokes):
    return [s.runs[0] for s in strokes if len(s.runs) == 1 and len(set(s.runs[0])) == 4
            and all(is_true(distance(a, b), 100) for a, b in zip(s.runs[0], s.runs[0][1:]))
            and is_true(distance(s.runs[0][0], s.runs[0][2]), 100 * math.sqrt(2))]


def papers_have_their_size(tap):
    with tempfile.TemporaryDirectory() as folder:
        for name in CLEAN_DEMOS:
            path, result = write(folder, name + ".pdf", name)
            sound = subprocess.run(["qpdf", "--check", path], stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
            tap.ok(result.status == 0 and result.err == "" and sound.returncode == 0, f"{name}: a sound PDF", (result, sound.stdout))
        for paper, size in PAPERS.items():
            path, result = write(folder, paper + ".pdf", "heron", "--paper", paper)
            info = subprocess.run(["pdfinfo", "-l", "99", path], stdout=subprocess.PIPE, check=True).stdout.decode()
            found = [(float(w) * MM, float(h) * MM) for w, h in re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+)", info)]
            tap.ok(found and all(is_true(w, size[0]) and is_true(h, size[1]) for w, h in found), f"{paper}: every page is {size[0]} by {size[1]} mm", info)
            pages = read_pdf(path)
            tap.ok(len(squares(pages[0])) == 1 and len(pages) == len(found), f"{paper}: the first page has the square of 100 mm", len(squares(pages[0])))
        path, result = write(folder, "one.pdf", "heron", "--paper", "one")
        pages = read_pdf(path)
        tap.ok(result.status == 0 and len(pages) == 1 and len(squares(pages[0])) == 1, "one: one sheet, with the square", result)
        with open(path, "rb") as file:
            first = file.read()
        write(folder, "one.pdf", "heron", "--paper", "one")
        with open(path, "rb") as file:
            again = file.read()
        tap.ok(first == again and b"CreationDate" not in first, "the same design gives the same bytes, without a date")


def panels_on_paper_come_out_true(tap):
    design = read_demo("heron")
    with tempfile.TemporaryDirectory() as folder:
        for paper in ("a4", "one"):
            path, _ = write(folder, "h.pdf", "heron", "--paper", paper)
            strokes = [s for page in read_pdf(path) for s in page]
            for name in ("arm", "tip"):
                wanted = [tuple(p) for p in named(design["panels"], name)["outline"]]
                found = [s for s in strokes if s.runs and worst_of_shape(s.runs[0], wanted) < TRUE_TO]
                senses = {area(s.runs[0]) > 0 for s in found}
                tap.ok(len(found) == 2 and len(senses) == 2, f"{paper}: {name} is there twice, once mirrored, to {TRUE_TO} mm", len(found))
                # ISO 128: wide lines 0.7, narrow 0.35.
                tap.ok(all(is_true(s.width, 0.7) for s in found), f"{paper}: its edge is a wide line, 0.7 mm", [s.width for s in found])
            dashed = [s for s in strokes if s.dashed and is_true(s.width, 0.35)]
            tap.ok(len(dashed) > 20, f"{paper}: score and hinge lines are narrow, 0.35 mm, and dashed", len(dashed))


def tile_pages(path, part):
    """Page index by tile name."""
    words = subprocess.run(["pdftotext", "-layout", path, "-"], stdout=subprocess.PIPE, check=True).stdout.decode().split("\f")
    tiles = {}
    for i, text in enumerate(words):
        match = re.search(re.escape(part) + r", tile ([A-Z]+)(\d+)", text)
        if match:
            tiles[match.groups()] = i
    return tiles


def crosses(strokes):
    """Middles of the level arms of crosses: 10 mm, narrow."""
    return sorted(((a[0] + b[0]) / 2, a[1]) for s in strokes if is_true(s.width, 0.35) and not s.dashed for a, b in
                  (r for r in s.runs if len(r) == 2) if is_true(a[1], b[1]) and is_true(abs(a[0] - b[0]), 10))


def tiles_cover_and_join(tap):
    with tempfile.TemporaryDirectory() as folder:
        for paper in ("a4", "letter"):
            path, _ = write(folder, "t.pdf", "heron", "--paper", paper)
            width, height = PAPERS[paper]
            # Margins of 10 mm, a head of 12 and a foot of 15, as docs/templates.md has them.
            w, h = width - 20, height - 20 - 27
            count = lambda whole, tile: math.ceil((whole - OVERLAP) / (tile - OVERLAP))
            edge = 1  # 0.5 mm on either side for the lines' width
            best = min(((count(a + edge, w), count(b + edge, h)) for a, b in ((560, 320), (320, 560))), key=lambda c: c[0] * c[1])
            tiles = tile_pages(path, "Base plate")
            columns, rows = len({c for c, _ in tiles}), len({r for _, r in tiles})
            tap.ok((columns, rows) == best and len(tiles) == columns * rows, f"{paper}: the plate takes ceil((W - o)/(w - o)) tiles each way, turned if that saves some", (columns, rows, best))
            pages = read_pdf(path)
            plate = {}
            for (column, row), page in tiles.items():
                found = [s.runs[0] for s in pages[page] if s.runs and sorted(round(distance(a, b)) for a, b in zip(s.runs[0], s.runs[0][1:]))[:3] in ([320, 320, 560], [320, 560, 560])]
                plate[column, int(row)] = (min(p[0] for p in found[0]), min(p[1] for p in found[0]), max(p[0] for p in found[0]), max(p[1] for p in found[0]))
            first = plate["A", 1]
            steps_x = [plate[c, r][0] - first[0] + (ord(c) - 65) * (w - OVERLAP) for c, r in plate]
            steps_y = [plate[c, r][1] - first[1] + (r - 1) * (h - OVERLAP) for c, r in plate]
            tap.ok(all(abs(s) < TRUE_TO for s in steps_x + steps_y), f"{paper}: from tile to tile the plate moves by the tile less 12 mm", (steps_x, steps_y))
            right, bottom = plate[chr(64 + columns), rows][2:]
            tap.ok(first[0] >= 10 and first[1] >= 22 and right <= width - 10 and bottom <= height - 25, f"{paper}: the tiles together hold all of it", plate)
            near = [crosses(pages[page]) for page in tiles.values()]
            wanted = sorted((10 + x, 22 + y) for x in (6, w - 6) for y in (6, h - 6))
            tap.ok(all(len(c) == 4 and all(distance(a, b) < TRUE_TO for a, b in zip(c, wanted)) for c in near), f"{paper}: four crosses a tile, in the middle of the overlaps", near[0])
            texts = subprocess.run(["pdftotext", path, "-"], stdout=subprocess.PIPE, check=True).stdout.decode().split("\f")
            tap.ok("overlap with B1" in texts[tiles["A", "1"]] and "overlap with A2" in texts[tiles["A", "1"]], f"{paper}: a tile names its neighbours")


def read_grey(path):
    with open(path, "rb") as file:
        data = file.read()
    header = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
    return int(header.group(1)), int(header.group(2)), data[header.end():]


def neighbours_print_the_same_strip(tap):
    """Rasterised by another program: what is black in a strip is black in the neighbour's, within a dot."""
    dots = 150
    with tempfile.TemporaryDirectory() as folder:
        path, _ = write(folder, "t.pdf", "heron")
        tiles = tile_pages(path, "Base plate")
        black = {}
        for name in (("A", "2"), ("B", "2")):
            page = str(tiles[name] + 1)
            subprocess.run(["pdftoppm", "-gray", "-r", str(dots), "-f", page, "-l", page, "-singlefile", path, os.path.join(folder, "p")], check=True)
            width, height, data = read_grey(os.path.join(folder, "p.pgm"))
            px = dots / 25.4
            left = round((10 if name[0] == "B" else 200 - OVERLAP) * px)
            top, bottom = round(22 * px), round(272 * px)
            across = round(OVERLAP * px)
            black[name] = {(x, y) for y in range(top, bottom) for x in range(across) if data[y * width + left + x] < 70}
        a, b = black["A", "2"], black["B", "2"]
        close = lambda p, others: any((p[0] + i, p[1] + k) in others for i in (-2, -1, 0, 1, 2) for k in (-2, -1, 0, 1, 2))
        inner = {p for p in a if 3 < p[0] < across - 3}, {p for p in b if 3 < p[0] < across - 3}
        strays = [p for p in inner[0] if not close(p, b)] + [p for p in inner[1] if not close(p, a)]
        tap.ok(len(inner[0]) > 200 and not strays, "two tiles print the same lines where they overlap", (len(a), len(b), strays[:5]))


def plain_shapes_stand_in(tap):
    with tempfile.TemporaryDirectory() as folder:
        path, result = write(folder, "e.svg", EXAMPLE)
        found = piece(pieces_of(path), "inner.right")
        (a, b), = found.hinges
        # As the views draw it: a root of 0.45 span, a tip at the span.
        tap.near([distance(a, b)], [0.45 * 210], TRUE_TO, "a panel without an outline has the root that the views give it")
        x0, y0, x1, y1 = found.box()
        tap.ok(is_true(max(x1 - x0, y1 - y0), 210), "and reaches to its span", found.box())
        pdf, _ = write(folder, "e.pdf", EXAMPLE)
        words = subprocess.run(["pdftotext", pdf, "-"], stdout=subprocess.PIPE, check=True).stdout.decode()
        tap.ok("has no outline in the design" in words, "the overview says so")


def lengths_are_told_as_wanted(tap):
    with tempfile.TemporaryDirectory() as folder:
        path, _ = write(folder, "i.pdf", "heron", "--lengths", "inch")
        words = subprocess.run(["pdftotext", path, "-"], stdout=subprocess.PIPE, check=True).stdout.decode()
        tap.ok("3 15/16 in" in words and "21 57/64 in" in words and "556 mm" not in words, "inch fractions on the parts")


def calls_are_checked(tap):
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "x")
        for options in ([], ["-o", out + ".png"], ["-o", out], ["-o", out + ".pdf", "--paper", "a5"], ["-o", out + ".pdf", "--sheet", "600x400"],
                        ["-o", out + ".svg", "--paper", "a4"], ["-o", out + ".svg", "--sheet", "600"], ["-o", out + ".svg", "--sheet", "600x-4"],
                        ["-o", out + ".svg", "--sheet", "1x1"], ["-o", out + ".svg", "--sheet", "6e9x400"], ["-o", out + ".svg", "--sheet", "600x400mm"],
                        ["-o", out + ".svg", "--sheet", "nanx400"], ["-o", out + ".pdf", "--lengths", "feet"]):
            result = call("templates", demo("moth"), *options)
            tap.ok(result.status == 2 and is_one_line(result.err) and result.out == b"" and not os.listdir(folder),
                   f"refused in one line: {' '.join(options).replace(folder, '')}", result)
        result = call("templates", os.path.join(DEMOS, "no-such.flap"), "-o", out + ".pdf")
        tap.ok(result.status == 2 and is_one_line(result.err), "a design that is not there is refused", result)


if __name__ == "__main__":
    for tool in ("qpdf", "pdftotext", "pdftoppm", "pdfinfo", "xmllint"):
        assert shutil.which(tool), tool + " is needed: src/packages.sh"
    sys.exit(Tap().run([panels_come_out_true, sweep_turns_the_hinge_line, gauges_come_out_true, wedges_have_their_angles,
                        plate_is_drilled_where_things_stand, nothing_overlaps, grain_of_the_stock_is_kept, what_does_not_fit_is_told,
                        all_sheets_or_none, names_of_the_world, papers_have_their_size, panels_on_paper_come_out_true,
                        tiles_cover_and_join, neighbours_print_the_same_strip, plain_shapes_stand_in, lengths_are_told_as_wanted,
                        calls_are_checked]))
