"""The same work as wyeplan's, as one would do it with pandas, and an oracle for its figures.

    /usr/bin/python3 plan_peer.py CASE.json

Reads the city's two files, scores the risk of every lateral, ranks them, sizes the wall of every lateral whose structural
grade asks for a liner, totals by district, and writes a workbook of thirty styled columns with xlsxwriter and, without
borders and colours, with openpyxl. Everything is done on whole columns with numpy. Written from the equations and sources
in shared/docs/equations.md and the tables of shared/, not from the program. Prints its times as JSON and leaves its
figures in CSV files beside the case, which the bench compares with the program's.

What it is given: the grades and the ovality that the surveys of each lateral come to (condition.csv). The rules for
several surveys of one lateral, joined, cut short, of one day, are a page of cases that a table program does not say well.
"""
import json
import os
import resource
import sys
import time

import numpy as np
import pandas as pd

PSI_IN_KPA = 6.894757293168361
FEET = 0.3048
WATER = 62.4 * 0.45359237 * 9.80665 / FEET**3 / 1000  # 62.4 lbf/ft3 in kN/m3


def influence(m, n):
    """Boussinesq's point load over a rectangle's corner, integrated by Newmark."""
    a = m * m + n * n + 1
    b = m * m * n * n
    c = 2 * m * n * np.sqrt(a)
    return (c / (a + b) * (a + 1) / a + np.arctan2(c, a - b)) / (4 * np.pi)


class Walls:
    """ASTM F1216 Appendix X1, fully deteriorated, by the handbook of 2010, pp. 75-83."""

    def __init__(self, case):
        design, system, live = case["design"], case["system"], case["live"]
        self.K, self.nu, self.N = design["enhancement"], design["poissonsRatio"], design["safetyFactor"]
        self.soil, self.Es = design["soilUnitWeight"], design["soilModulus"]
        self.E = system["shortTermModulus"]
        self.EL = self.E * system["modulusRetention"]
        self.sigma = system["flexuralStrength"] * system["strengthRetention"]
        self.length = live["loadedLength"]
        self.steps = np.array([step["fromMetres"] for step in live["impact"]])
        self.factors = np.array([step["factor"] for step in live["impact"]])

    def load(self, H, D, depth, wheel):
        """R_w, B' and q_t in kPa under cover H in m, for diameters in mm."""
        Hw = np.maximum(0, H - depth)
        Rw = np.maximum(0.67, 1 - 0.33 * Hw / H)
        B = 1 / (1 + 4 * np.exp(-0.065 * H / FEET))
        # A cover at a step to the last bits of its conversion is at the step.
        F = self.factors[np.searchsorted(self.steps - 1e-9, H, side="right") - 1]
        width = D / 1000
        Cs = 4 * influence(width / (2 * H), self.length / (2 * H))
        live = F * Cs * wheel / (self.length * width) / 1000
        return Rw, B, WATER * Hw + self.soil * H * Rw + live

    def demand(self, H, D, depth, wheel):
        Rw, B, q = self.load(H, D, depth, wheel)
        return q * q / (Rw * B)

    def worst_cover(self, shallow, deep, D, depth, wheel):
        """The cover from one end to the other with the greatest demand, by ever finer rows of covers in each stretch
        between the steps of the impact table; a step's own shallow side is a micrometre above it."""
        best = deep.copy()
        most = self.demand(deep, D, depth, wheel)
        for start, end in zip(self.steps, [*(self.steps[1:] - 1e-6), np.inf]):
            low, high = np.maximum(shallow, start), np.minimum(deep, end)
            there = low <= high
            if not there.any():
                continue
            lo, hi = low[there], high[there]
            d, w, q = D[there][:, None], depth[there][:, None], wheel[there][:, None]
            for _ in range(4):
                covers = lo[:, None] + np.linspace(0, 1, 17) * (hi - lo)[:, None]
                demands = self.demand(covers, d, w, q)
                top = demands.argmax(axis=1)
                rows = np.arange(len(top))
                step = (hi - lo) / 16
                at = covers[rows, top]
                lo, hi = np.maximum(lo, at - step), np.minimum(hi, at + step)
            better = demands[rows, top] > most[there]
            where = np.flatnonzero(there)[better]
            best[where], most[where] = at[better], demands[rows, top][better]
        return best

    def size(self, D, q, house, main, depth, wheel):
        """Calculated wall in mm: the thickest of X1.1 to X1.4."""
        C = ((1 - q) / (1 + q) ** 2) ** 3
        shallow, deep = np.minimum(house, main), np.maximum(house, main)
        worst = self.worst_cover(shallow, deep, D, depth, wheel)

        def wall(H):
            P = WATER * np.maximum(0, H + D / 1000 - depth)
            with np.errstate(divide="ignore"):
                ring = 2 * self.K * self.EL * 1000 * C / (self.N * (1 - self.nu**2))
                x11 = D / (np.cbrt(ring / P) + 1)
                a, b = 1.5 * q * (1 + q), 0.5 * (1 + q)
                x12 = D * 2 * a / (b + np.sqrt(b * b + 4 * a * self.sigma * 1000 / (P * self.N)))
            Rw, B, qt = self.load(H, D, depth, wheel)
            x13 = 0.375 * (self.N * qt / 1000) ** 2 / (self.EL * Rw * B * C * self.Es)
            x14 = 12 * 0.093 * PSI_IN_KPA / 1000 / self.E
            return np.maximum.reduce([x11, x12, D * np.cbrt(x13), D * np.cbrt(x14)])

        return np.maximum(wall(deep), wall(worst))


def read(case):
    text = {"FACILITYID": str, "SERVAREA": "category", "MATERIAL": "category", "SURFACE": "category",
            "BLDG_USE": "category", "MAIN_ID": str, "NOTES": str}
    laterals = pd.read_csv(case["laterals"], dtype=text, keep_default_na=False, na_values={c: [""] for c in (
        "DIAM", "LENGTH", "INST_YEAR", "COVER_MAIN", "COVER_BLDG", "GW_DEPTH", "BACKUPS_5Y", "MAIN_DIAM",
        "X_COORD", "Y_COORD", "LOWER_LEN", "UPPER_LEN", "CITY_SHARE_PCT")})
    for column in ("LASTEDIT", "ROE_SIGNED", "ROE_EXPIRES"):
        laterals[column] = pd.to_datetime(laterals[column], errors="coerce", infer_datetime_format=True)
    surveys = pd.read_csv(case["inspections"], dtype={"INSP_ID": str, "LATERAL_REF": str, "ST_QUICK": str,
                                                      "OM_QUICK": str, "DIRECTION": "category"}, low_memory=False)
    surveys["INSP_DATE"] = pd.to_datetime(surveys["INSP_DATE"], errors="coerce", infer_datetime_format=True)
    seen = surveys.sort_values("INSP_DATE").groupby("LATERAL_REF", sort=False)["INSP_DATE"].last()
    laterals["last_seen"] = laterals["FACILITYID"].map(seen)
    return laterals, surveys


def score(laterals, condition, case):
    risk = case["risk"]
    laterals = laterals.merge(condition, left_on="FACILITYID", right_on="lateral", how="left", validate="1:1")
    structural, om = laterals["structural"], laterals["om"]
    points = np.fmax(pick(risk["likelihood"]["structural"], structural), pick(risk["likelihood"]["om"], om))
    age = np.maximum(0, case["year"] - laterals["INST_YEAR"])
    bands = risk["uninspected"]["bands"]
    by_age = np.select([age >= band["fromAge"] for band in reversed(bands)],
                       [band["points"] for band in reversed(bands)], risk["uninspected"]["ageUnknown"])
    raised = pick(risk["likelihood"]["backups"], laterals["BACKUPS_5Y"].clip(upper=2))
    laterals["likelihood"] = np.minimum(5, np.where(np.isnan(points), by_age, points) + np.nan_to_num(raised))
    part = risk["consequence"]
    laterals["consequence"] = (
        part["weights"]["building"] * laterals["BLDG_USE"].map(part["building"]).astype(float)
        + part["weights"]["surface"] * laterals["SURFACE"].map(part["surface"]).astype(float))
    laterals["risk"] = laterals["likelihood"] * laterals["consequence"]
    order = np.lexsort((laterals["FACILITYID"].to_numpy(str), -om.fillna(-1), -structural.fillna(-1),
                        -np.floor(laterals["risk"] / 1e-6 + 0.5)))
    laterals["rank"] = 0
    laterals.iloc[order, laterals.columns.get_loc("rank")] = np.arange(1, len(order) + 1)
    return laterals


def pick(table, index):
    """table[index], NaN where the index is missing."""
    values = np.array(table, float)
    found = np.full(len(index), np.nan)
    known = index.notna().to_numpy()
    found[known] = values[index[known].astype(int)]
    return found


def size(laterals, case):
    walls, system, design = Walls(case), case["system"], case["design"]
    D = laterals["DIAM"] * 25.4
    # The ovality factor holds to 10 %; a pipe further out of round gets no wall.
    lined = ((laterals["structural"] >= case["lineFrom"]) & (D >= system["hostDiameters"]["least"])
             & (D <= system["hostDiameters"]["most"]) & ~(laterals["ovality"] > 0.1)).to_numpy()
    some = laterals[lined]
    wheels = {surface: 0.0 if wheel == "none" else case["live"]["wheels"][design["wheel"] if wheel == "design" else wheel]
              for surface, wheel in case["surfaceWheels"].items() if wheel != "rail"}
    q = np.fmax(case["leastOvality"], some["ovality"].to_numpy(float))
    calculated = walls.size(D[lined].to_numpy(), q, (some["COVER_BLDG"] * FEET).to_numpy(),
                            (some["COVER_MAIN"] * FEET).to_numpy(), (some["GW_DEPTH"] * FEET).to_numpy(),
                            some["SURFACE"].map(wheels).astype(float).to_numpy())
    stock = np.array(system["stockedWalls"], float)
    needed = np.maximum(calculated, design["minimumWall"])
    laterals["wall"] = np.nan
    laterals["stocked"] = np.nan
    laterals.loc[lined, "wall"] = calculated
    laterals.loc[lined, "stocked"] = stock[np.searchsorted(stock, needed - 1e-9)]
    return laterals


def totals(laterals):
    laterals["lined_ft"] = laterals["LENGTH"].where(laterals["stocked"].notna(), 0)
    return laterals.groupby("SERVAREA", observed=True).agg(
        laterals=("FACILITYID", "size"), lined=("stocked", "count"), lined_ft=("lined_ft", "sum"),
        wall_mm=("stocked", "sum"), risk=("risk", "sum")).sort_index()


def rows_of(sheet):
    """The cells, column by column, as plain values."""
    frame = pd.read_csv(sheet["csv"], dtype={c["heading"]: str for c in sheet["columns"] if c["text"]}, keep_default_na=False,
                        na_values={c["heading"]: [""] for c in sheet["columns"] if not c["text"]})
    cells = frame.astype(object).where(frame.notna(), None)
    return [cells[c["heading"]].tolist() for c in sheet["columns"]]


def with_xlsxwriter(sheet, columns, path):
    import xlsxwriter
    book = xlsxwriter.Workbook(path, {"constant_memory": True})
    page = book.add_worksheet("Sheet")
    base = {"font_name": "Arial", "font_size": 9, "border": 1, "border_color": "#C9D1D5", "valign": "top"}
    looks = [book.add_format({**base, **({"align": "left", "indent": 1} if c["text"] else {"align": "right"}),
                              **({"num_format": c["format"]} if c["format"] else {})}) for c in sheet["columns"]]
    head = book.add_format({**base, "bold": True, "font_color": "white", "bg_color": "#1F4E5F", "text_wrap": True})
    for i, column in enumerate(sheet["columns"]):
        page.set_column(i, i, 12)
        page.write_string(0, i, column["heading"], head)
    page.freeze_panes(1, 1)
    write = [page.write_string if c["text"] else page.write_number for c in sheet["columns"]]
    formula = len(sheet["columns"])
    money = book.add_format({**base, "align": "right", "num_format": "#,##0.00"})
    page.write_string(0, formula, "Length by wall", head)
    a, b = sheet["product"]
    letter = [chr(65 + a), chr(65 + b)]
    for r, row in enumerate(zip(*columns), start=1):
        for i, value in enumerate(row):
            if value is None or value == "":
                page.write_blank(r, i, None, looks[i])
            else:
                write[i](r, i, value, looks[i])
        product = (row[a] or 0) * (row[b] or 0)
        page.write_formula(r, formula, f"={letter[0]}{r + 1}*{letter[1]}{r + 1}", money, product)
    book.close()


def with_openpyxl(sheet, columns, path):
    """Number formats only: a cell with a style of its own would double its time."""
    from openpyxl import Workbook
    from openpyxl.cell import WriteOnlyCell
    book = Workbook(write_only=True)
    page = book.create_sheet("Sheet")
    page.append([c["heading"] for c in sheet["columns"]] + ["Length by wall"])
    a, b = sheet["product"]
    letter = [chr(65 + a), chr(65 + b)]
    formats = [c["format"] or None for c in sheet["columns"]]
    for r, row in enumerate(zip(*columns), start=2):
        cells = []
        for value, form in zip(row, formats):
            if form is not None and value is not None:
                cell = WriteOnlyCell(page, value)
                cell.number_format = form
                cells.append(cell)
            else:
                cells.append(value)
        cells.append(f"={letter[0]}{r}*{letter[1]}{r}")
        page.append(cells)
    book.save(path)


def main():
    case = json.load(open(sys.argv[1]))
    times = []

    def timed(step, work):
        start = time.perf_counter()
        result = work()
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        times.append({"step": step, "seconds": time.perf_counter() - start, "peak": peak})
        return result

    if case.get("sheet") is None:
        laterals, _ = timed("import", lambda: read(case))
        condition = pd.read_csv(case["condition"], dtype={"lateral": str})
        laterals = timed("scope", lambda: size(score(laterals, condition, case), case))
        district = timed("totals", lambda: totals(laterals))
        laterals[["FACILITYID", "rank", "risk", "wall", "stocked"]].to_csv(case["figures"], index=False)
        district.to_csv(case["districts"])
    else:
        sheet = case["sheet"]
        columns = rows_of(sheet)
        writer = {"xlsxwriter": with_xlsxwriter, "openpyxl": with_openpyxl}[sheet["writer"]]
        timed(sheet["writer"], lambda: writer(sheet, columns, sheet["path"]))
        times[-1]["bytes"] = os.path.getsize(sheet["path"])
    json.dump({"times": times, "pandas": pd.__version__, "numpy": np.__version__}, sys.stdout)


main()
