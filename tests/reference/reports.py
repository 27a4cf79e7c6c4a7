"""Reads the reports that the program writes with other programs, and fails where they say something else than the program.

usage: reports.py PROGRAM FOLDER
"""

import collections
import csv
import decimal
import json
import pathlib
import re
import shutil
import subprocess
import sys

import formulas
import openpyxl
import pypdf
import pypdfium2
import zxingcpp

PROGRAM, OUT = sys.argv[1], pathlib.Path(sys.argv[2])
EXAMPLES = pathlib.Path(__file__).resolve().parents[2] / "examples"
KINDS = ["buy-list", "jobs", "measure", "commissioning", "tags", "compare", "book"]
MONEY = {"buy-list": ("Buy list", "cost"), "compare": ("Causes", "money"), "book": ("Money", "cost")}
PAPERS = {"letter": (612, 792), "a4": (595.276, 841.89)}  # ANSI/ASME Y14.1 and ISO 216, in points
MARGIN = 50
SCALE = 1.25  # points of a drawn page to a point of paper
done = collections.Counter()


def run(*arguments):
    """What the program prints; it must end well."""
    ran = subprocess.run([PROGRAM, *map(str, arguments)], capture_output=True, text=True, check=False)
    if ran.returncode != 0:
        sys.exit(f"{arguments}: {ran.stderr}")
    return ran.stdout


def hold(condition, what):
    """Ends where something does not hold."""
    if not condition:
        sys.exit(f"does not hold: {what}")
    done[what.split(":")[0]] += 1


def plan_of(sheet):
    """The plan in which all is worked out; else the one the sheet stands on."""
    told = json.loads(sheet.read_text(encoding="utf-8"))
    return "worked-out" if "worked-out" in told["plans"] else told["plan"]


def write(kind, sheet, ending, *more):
    """A report of a sheet."""
    name = "-".join([kind, sheet.stem, *(m.strip("-") for m in more)])
    out = OUT / f"{name}.{ending}"
    against = ["--against", "sound"] if kind == "compare" else []
    plan = ["--plan", plan_of(sheet)]
    run("report", kind, sheet, *plan, *against, "--out", out, "--replace", *more)
    return out


def all_money(sheet, kind):
    """What the program says a plan comes to, by currency; for a comparison the difference."""
    if kind == "compare":
        told = json.loads(run("compare", sheet, "worked-out", "sound", "--json"))
        return {told["currency"]: decimal.Decimal(told["money"])}
    totals = json.loads(run("assess", sheet, "--plan", plan_of(sheet), "--json"))["totals"]
    return {totals["currency"]: sum(decimal.Decimal(totals[of]) for of in ("spent", "committed", "to_come"))}


def lists_of(path):
    """The lists of a CSV: their heads and rows, by name; one that stands alone has none."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.reader(file))
    out, name, heads = {}, "", None
    # nothing comes off the vehicle: no bag has a tag
    if not rows:
        return out
    alone = len(rows[0]) > 1
    for row in rows:
        if not alone and len(row) <= 1:
            name, heads = (row[0] if row else ""), None
        elif heads is None:
            heads = row
            out[name] = (heads, [])
        else:
            hold(len(row) == len(heads), f"CSV rows are as long as their heads: {path.name}")
            out[name][1].append(row)
    return out


def check_csv(path, kind, money):
    """Python's own reader of CSV."""
    lists = lists_of(path)
    for heads, rows in lists.values():
        for cell in [cell for row in [heads, *rows] for cell in row]:
            number = re.fullmatch(r"-?\d+(\.\d+)?", cell)
            hold(number or not re.match(r"[\s;,|\"]*[=+\-@]", cell), f"no cell of CSV runs: {path.name} {cell!r}")
    if kind in MONEY:
        name, column = MONEY[kind]
        heads, rows = lists[name if name in lists else ""]
        sums = collections.defaultdict(decimal.Decimal)
        for row in rows:
            if row[heads.index(column)]:
                sums[row[heads.index("currency")]] += decimal.Decimal(row[heads.index(column)])
        hold(dict(sums) == money, f"CSV adds up to the plan: {path.name} {dict(sums)} {money}")
    return lists


def worked_out(path):
    """The cells of a workbook after another program has worked its formulas out."""
    office = shutil.which("soffice") or shutil.which("libreoffice")
    if office:
        folder = path.parent / "recalculated"
        command = [office, "--headless", "--convert-to", "xlsx", "--outdir", folder, path]
        subprocess.run(command, check=True, capture_output=True)
        book = openpyxl.load_workbook(folder / path.name, data_only=True)
        return lambda sheet, cell: book[sheet][cell].value
    model = formulas.ExcelModel().loads(str(path)).finish()
    found = model.calculate()
    return lambda sheet, cell: found[f"'[{path.name}]{sheet.upper()}'!{cell}"].value[0, 0]


def check_xlsx(path, kind, money):
    """A workbook: types, frozen heads, sums as formulas that come to what the program says."""
    book = openpyxl.load_workbook(path)
    told = openpyxl.load_workbook(path, data_only=True)
    value = worked_out(path) if kind in MONEY else None
    for sheet in book.worksheets:
        if sheet.title == "About":
            continue
        hold(sheet.freeze_panes == "A2", f"heads of a worksheet stay in sight: {path.name} {sheet.title}")
        heads = [cell.value for cell in sheet[1]]
        for row in sheet.iter_rows(min_row=2):
            for head, cell in zip(heads, row):
                if head in ("cost", "price each", "money", "each", "qty", "hours") and cell.value is not None:
                    words = ("no price", "no price paid", "1 or more")
                    kind_of = cell.data_type in ("n", "f") or cell.value in words
                    hold(kind_of, f"numbers of a worksheet are numbers: {path.name} {sheet.title} {cell.coordinate}")
        for cell in [c for row in sheet.iter_rows(min_row=2) for c in row if c.data_type == "f"]:
            hold(cell.value.startswith(("=SUM(", "=SUMIFS(")), f"formulas are sums: {path.name} {cell.value}")
            if value:
                ours, theirs = float(told[sheet.title][cell.coordinate].value), float(value(sheet.title, cell.coordinate))
                hold(abs(ours - theirs) < 5e-7, f"sums worked out anew are ours: {path.name} {sheet.title} {cell.coordinate}")
    if kind in MONEY:
        name, column = MONEY[kind]
        sheet = told[name]
        heads = [cell.value for cell in sheet[1]]
        at = heads.index(column)
        for row in sheet.iter_rows(min_row=2, values_only=True):
            if str(row[0]).startswith("Total "):
                currency = row[0].removeprefix("Total ")
                hold(abs(float(row[at]) - float(money[currency])) < 5e-7, f"workbooks add up to the plan: {path.name}")


def plain(text):
    """Letters alone: lines of a PDF break where they must."""
    return re.sub(r"\s+", "", text)


def check_pdf(path, kind, lists, paper):
    """A PDF: fonts, text, bookmarks, tags, paper; and nothing beyond its margins."""
    reader = pypdf.PdfReader(path)
    root = reader.trailer["/Root"]
    hold(root["/MarkInfo"]["/Marked"] is pypdf.generic.BooleanObject(True) or bool(root["/MarkInfo"]["/Marked"]), f"PDF is tagged: {path.name}")
    hold("/StructTreeRoot" in root and str(root["/Lang"]) == "en", f"PDF has a reading order and a language: {path.name}")
    metadata = root["/Metadata"].get_data().decode()
    for mark in ("pdfaid:part>2<", "pdfaid:conformance>A<", "pdfuaid:part>1<"):
        hold(mark in metadata, f"PDF says its standard: {path.name} {mark}")
    hold(bool(reader.metadata.title) and len(reader.outline) >= 1, f"PDF has a title and bookmarks: {path.name}")
    fonts = {}
    for n, page in enumerate(reader.pages, 1):
        hold(abs(float(page.mediabox.width) - PAPERS[paper][0]) < 0.1, f"PDF is on its paper: {path.name}")
        hold(abs(float(page.mediabox.height) - PAPERS[paper][1]) < 0.1, f"PDF is on its paper: {path.name}")
        fonts.update(page["/Resources"].get("/Font", {}))
        text = plain(page.extract_text())
        hold(f"Page{n}of{len(reader.pages)}" in text, f"PDF pages are numbered: {path.name} {n}")
    hold(bool(fonts), f"PDF has fonts: {path.name}")
    for name, font in fonts.items():
        inner = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
        embedded = any(f"/FontFile{n}" in inner for n in ("", "2", "3"))
        hold(embedded and "/ToUnicode" in font.get_object(), f"PDF fonts are embedded and can be read out: {path.name} {name}")
    whole = plain(" ".join(page.extract_text() for page in reader.pages))
    for heads, rows in lists.values():
        for head in ("item", "job", "check", "part", "what"):
            if head in heads:
                for row in rows:
                    hold(plain(row[heads.index(head)]) in whole, f"PDF says each line: {path.name} {row[heads.index(head)]}")
                break
    if kind == "buy-list":
        with_rows = [p for p in reader.pages if re.search(r"\d\.\d\d USD", p.extract_text())]
        hold(all("item" in p.extract_text() or "lines" in p.extract_text() for p in with_rows), f"heads stand again on each page: {path.name}")
    drawn = pypdfium2.PdfDocument(path)
    for n in range(len(drawn)):
        picture = drawn[n].render(scale=SCALE).to_pil().convert("L")
        picture.save(path.with_suffix("").with_name(f"{path.stem}-{n + 1}.png"))
        ink = picture.point(lambda level: 255 if level < 200 else 0).getbbox()
        hold(ink is not None, f"PDF pages have something on them: {path.name} {n + 1}")
        left, top, right, bottom = (edge / SCALE for edge in ink)
        width, height = PAPERS[paper]
        within = left >= MARGIN - 2 and right <= width - MARGIN + 2 and top >= MARGIN - 6 and bottom <= height - 30
        hold(within, f"nothing stands in the margins: {path.name} page {n + 1} {ink}")
    if kind == "tags" and lists:
        heads, rows = lists[""]
        codes = set()
        for n in range(len(drawn)):
            picture = drawn[n].render(scale=4).to_pil().convert("L")
            codes |= {code.text for code in zxingcpp.read_barcodes(picture)}
        for row in rows:
            bag, part = row[heads.index("bag")], row[heads.index("part")]
            found = [code for code in codes if f"bag {bag}; {part}" in code]
            hold(len(found) == 1, f"square codes can be read: {path.name} bag {bag} {part}")


def main():
    """Every kind and format of the pickup; buy list, tags and book of the others."""
    for sheet in sorted(EXAMPLES.glob("*.json")):
        kinds = KINDS if sheet.stem == "furrow-10" else ["buy-list", "tags", "book"]
        for kind in kinds:
            money = all_money(sheet, kind) if kind in MONEY else None
            lists = check_csv(write(kind, sheet, "csv"), kind, money)
            check_xlsx(write(kind, sheet, "xlsx"), kind, money)
            check_pdf(write(kind, sheet, "pdf"), kind, lists, "letter")
            if sheet.stem == "furrow-10" and kind in ("buy-list", "tags"):
                check_pdf(write(kind, sheet, "pdf", "--paper", "a4"), kind, lists, "a4")
            write(kind, sheet, "html")
    for what, times in sorted(done.items()):
        print(f"{times:6} times: {what}")


main()
