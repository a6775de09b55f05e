# SPDX-License-Identifier: MIT
"""The chain as a spreadsheet, one recipe a row: what somebody with a spreadsheet would do instead.

    make_spreadsheet.py write JOBS FILE.fods ROWS            with formulas
    make_spreadsheet.py write JOBS FILE.fods ROWS --values   the same cells as plain numbers, to time what is not reckoning
    make_spreadsheet.py check JOBS FILE.csv                  the recalculated sheet against the C++ plan

It keeps to what a sheet can do without integrals and searches: one legume, one temperature for the soak, all starch settled
that can settle, at most one wash, no GDL, a moisture that is wanted. The driver's `simple` jobs are of that kind, so the
numbers have to be the same ones."""
import csv
import sys
from xml.sax.saxutils import quoteattr

import numpy as np

from properties import LIQUID_VOLUME
from table import read

TOLERANCE = 1e-9
PARTS = ("water", "protein", "starch", "sugars", "fat", "fibre", "ash")
# Names in the formulas and the columns that they come from.
INPUTS = {
    "dry": "dry", "oily": "seed.0.oily", **{f"c_{p}": f"theta.composition.{p}.0" for p in PARTS},
    "f_pulse": "theta.unassigned_fibre_pulse", "f_oily": "theta.unassigned_fibre_oily", "soak_time": "soak.time", "poured": "soak.water_to_dry",
    "k1": "theta.soak.k1.0", "k2": "theta.soak.k2.0", "lost_12": "theta.soak.solids_lost.0", "cling": "theta.soak.clinging_water.0",
    "hull": "theta.soak.hull.0", "rubbed": "theta.hull_removed", "skins_off": "soak.skins_off", "basis": "blend.basis", "blend_water": "blend.water",
    "blend_time": "blend.time", "full_time": "blend.full_time", "fine": "theta.protein_factor", "e_protein": "theta.release.protein.0",
    "e_fat": "theta.release.fat.0", "e_starch": "theta.starch_release", "r_sugars": "theta.release_sugars", "r_ash": "theta.release_ash",
    "r_fibre": "theta.release_fibre", "spill": "theta.spill", "ratio": "theta.held_liquor", "washes": "strain.wash_count", "wash": "wash.0.water_to_dry",
    "never": "theta.granules.never_settles.0", "packed": "theta.bed_fraction", "grain": "theta.granule_density", "grain_water": "theta.granule_water",
    "heel": "theta.heel", "film": "theta.film", "per_10": "theta.evaporated_per_10_min", "hold": "cook.hold", "told_steam": "cook.evaporated",
    "kind": "coagulate.kind", "label": "coagulate.active_mol_kg", "solute": "coagulate.solute_kg_kg", "mix_water": "coagulate.mix_water_kg_kg",
    "low": "coagulate.window_low", "high": "coagulate.window_high", "told_dose": "coagulate.dose", "told_used": "coagulate.used", "salt_dose": "theta.curd.dose.0",
    "acid_dose": "theta.dose", "true_share": "theta.strength", "coagulable": "theta.curd.coagulable.0", "fat_kept": "theta.fat_captured", "moisture": "press.moisture",
    "stays": "theta.curd_cling"}


def each(name, formula, parts=PARTS):
    """One column for each part; # stands for it."""
    return [(f"{name}_{p}", formula.replace("#", p)) for p in parts]


def total(name, parts=PARTS):
    return "(" + "+".join(f"{name}_{p}" for p in parts) + ")"


SOLIDS = PARTS[1:]
STILL = ("fibre", "sugars", "ash")


def seed_columns():
    return [("carbohydrate", "MAX(0;1-c_water-c_protein-c_fat-c_ash)"), ("fibre_1", "MIN(c_fibre;carbohydrate)"), ("sugars_1", "MIN(c_sugars;carbohydrate-fibre_1)"),
            ("starch_1", "MIN(c_starch;carbohydrate-fibre_1-sugars_1)"), ("unnamed", "carbohydrate-fibre_1-sugars_1-starch_1"), ("f", "IF(oily>0;f_oily;f_pulse)"),
            ("scale", "dry/(c_water+c_protein+c_fat+c_ash+carbohydrate)"), *each("seed", "c_#*scale", ("water", "protein", "fat", "ash")),
            ("seed_fibre", "(fibre_1+f*unnamed)*scale"), ("seed_sugars", "(sugars_1+(1-f)*unnamed)*scale"), ("seed_starch", "starch_1*scale")]


def soak_columns():
    return [("matter", "dry-seed_water"), ("drunk", "soak_time/k1"), ("gain", "drunk/(1+k2*drunk)"), ("lost", "matter*lost_12*MIN(soak_time/43200;2.3/2.03)"),
            ("lost_protein", "MIN(seed_protein;0.2*lost)"), ("lost_sugars", "MIN(seed_sugars;0.62*lost)"), ("lost_ash", "MIN(seed_ash;0.18*lost)"),
            ("left", "matter-lost_protein-lost_sugars-lost_ash"),
            ("uptake", "MIN(dry*poured;MAX(0;(seed_water/matter+gain)*left-seed_water)+cling*dry)"),
            ("wet_water", "seed_water+uptake"), *each("wet", "seed_#-lost_#", ("protein", "sugars", "ash")), *each("wet", "seed_#", ("starch", "fat", "fibre")),
            ("skins", "IF(skins_off>0;hull*rubbed*left;0)"), ("skin_fibre", "MIN(wet_fibre;0.85*skins)"), ("skin_protein", "MIN(wet_protein;0.06*skins)"),
            ("skin_ash", "MIN(wet_ash;0.03*skins)"), ("skin_sugars", "MIN(wet_sugars;0.06*skins)"),
            ("skin_water", "wet_water/left*(skin_fibre+skin_protein+skin_ash+skin_sugars)"),
            *each("soaked", "wet_#-skin_#", ("water", "protein", "sugars", "fibre", "ash")), *each("soaked", "wet_#", ("starch", "fat"))]


def blend_and_strain_columns():
    bound = [*each("bound", "soaked_#*(1-spill)-free_#", SOLIDS)]
    return [("grinding", f"IF(basis=0;blend_water*dry-uptake;IF(basis=1;blend_water*{total('soaked')};IF(basis=2;blend_water*dry;blend_water)))"),
            ("g", "MIN((1-EXP(-3*blend_time/full_time))/(1-EXP(-3));0.999/(e_protein*fine);0.999/(e_fat*fine);0.999/e_starch)"),
            ("free_water", "(soaked_water+grinding)*(1-spill)"), *each("free", "soaked_#*e_#*fine*g*(1-spill)", ("protein", "fat")),
            ("free_starch", "soaked_starch*e_starch*g*(1-spill)"), *each("free", "soaked_#*r_#*(1-spill)", STILL), *bound,
            ("x", f"ratio*{total('bound', SOLIDS)}"), ("held", "x/free_water"), ("wash_water", "IF(washes>0;wash*dry;0)"),
            ("held_2", "IF(washes>0;MIN(x;0.98*(x+wash_water))/(x+wash_water);1)"),
            ("milk_water", "free_water*(1-held)+(x+wash_water)*(1-held_2)"), *each("milk", "free_#*(1-held*held_2)", SOLIDS),
            ("pulp_water", "(x+wash_water)*held_2"), *each("pulp", "bound_#+free_#*held*held_2", SOLIDS)]


def starch_columns():
    rest = [("rest_water", "milk_water-bed_water"), ("rest_starch", "milk_starch-bed_starch"), *each("rest", "milk_#", [p for p in SOLIDS if p != "starch"])]
    litres = "+".join(f"rest_{p}*{v:.17g}" for p, v in zip(PARTS, LIQUID_VOLUME))
    return [("bed_starch", "milk_starch*(1-never)"), ("bed_water", "MIN(bed_starch*grain_water;0.5*milk_water)"), *rest,
            ("between", f"MIN(0.9;bed_starch*(1+grain_water)/(packed*grain)*(1-packed)/({litres}))"), *each("settled_milk", "rest_#*(1-between)*(1-heel)")]


def hot_columns():
    litres = "+".join(f"cooked_{p}*{v:.17g}" for p, v in zip(PARTS, LIQUID_VOLUME))
    return [("steam", f"MIN(IF(ISNUMBER(told_steam);told_steam;1-(1-per_10)^(hold/600))*(1-film)*{total('settled_milk')};0.9*(1-film)*settled_milk_water)"),
            ("cooked_water", "settled_milk_water*(1-film)-steam"), *each("cooked", "settled_milk_#*(1-film)", SOLIDS), ("m3", litres),
            ("rule", "IF(kind=0;salt_dose;acid_dose)*cooked_protein"), ("mol", "IF(ISNUMBER(told_dose);told_dose*cooked_protein;IF(kind=0;MIN(MAX(rule;low*m3);high*m3);rule))"),
            ("used", "IF(ISNUMBER(told_used);told_used;mol/label)"), ("acts", "used*label*true_share"), ("mmol", "acts/m3"),
            ("extent", "MAX(0;MIN(1;IF(kind=0;MIN((mmol-3)/5;(210-mmol)/160);(acts/rule-0.3)/0.4)))"), ("curdled", "cooked_protein*coagulable*extent"),
            ("set_water", "cooked_water+used*(1-solute+mix_water)"), ("salts", "used*solute")]


def press_columns():
    return [("solid", "curdled+cooked_fat*fat_kept+cooked_starch+cooked_fibre"),
            ("dissolved", "cooked_protein-curdled+cooked_fat*(1-fat_kept)+cooked_sugars+cooked_ash+salts"), ("c", "dissolved/set_water"),
            ("curd", "solid/(1-moisture*(1+c))"), ("water_share", "MIN(1;moisture*curd/set_water)"), ("curd_water", "set_water*water_share*(1-stays)"),
            ("curd_protein", "(curdled+(cooked_protein-curdled)*water_share)*(1-stays)"), ("curd_fat", "cooked_fat*(fat_kept+(1-fat_kept)*water_share)*(1-stays)"),
            *each("curd", "cooked_#*(1-stays)", ("starch", "fibre")), *each("curd", "cooked_#*water_share*(1-stays)", ("sugars", "ash")),
            ("curd_salts", "salts*water_share*(1-stays)")]


FORMULAS = [*seed_columns(), *soak_columns(), *blend_and_strain_columns(), *starch_columns(), *hot_columns(), *press_columns()]
CHECKED = ("soaked", "milk", "pulp", "settled_milk", "cooked", "curd")


def letters(k):
    return (letters(k // 26 - 1) if k >= 26 else "") + chr(ord("A") + k % 26)


def cell_formula(formula, column_of, row):
    """Names become cells of the row."""
    word, out = "", []
    for ch in formula + " ":
        if ch.isalnum() or ch == "_" or (ch == "." and word[:1].isdigit()):
            word += ch
            continue
        out.append(f"[.{column_of[word]}{row}]" if word in column_of else word)
        out.append(ch)
        word = ""
    return "of:=" + "".join(out).strip()


def number_cell(v):
    return "<table:table-cell/>" if np.isnan(v) else f'<table:table-cell office:value-type="float" office:value="{v:.17g}"/>'


def sheet_row(columns, k, column_of, values):
    cells = [number_cell(columns[c][k]) for c in INPUTS.values()]
    for name, formula in FORMULAS:
        cells.append(number_cell(1.0 + k) if values else f"<table:table-cell table:formula={quoteattr(cell_formula(formula, column_of, k + 2))}/>")
    return f"<table:table-row>{''.join(cells)}</table:table-row>"


def write(jobs, path, rows, values):
    columns, _ = read(jobs)
    names = [*INPUTS, *(name for name, _ in FORMULAS)]
    column_of = {name: letters(k) for k, name in enumerate(names)}
    spaces = " ".join(f'xmlns:{s}="urn:oasis:names:tc:opendocument:xmlns:{s}:1.0"' for s in ("office", "table", "text"))
    with open(path, "w") as out:
        out.write(f'<?xml version="1.0" encoding="UTF-8"?>\n<office:document {spaces} xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" '
                  'office:version="1.2" office:mimetype="application/vnd.oasis.opendocument.spreadsheet"><office:body><office:spreadsheet><table:table table:name="chain">\n')
        head = "".join(f'<table:table-cell office:value-type="string"><text:p>{n}</text:p></table:table-cell>' for n in names)
        out.write(f"<table:table-row>{head}</table:table-row>\n")
        out.writelines(sheet_row(columns, k, column_of, values) + "\n" for k in range(rows))
        out.write("</table:table></office:spreadsheet></office:body></office:document>\n")
    print(f"{path}: {rows} rows, {len(INPUTS)} inputs and {len(FORMULAS)} {'numbers' if values else 'formulas'} each")


def check(jobs, path):
    columns, _ = read(jobs)
    with open(path, newline="") as file:
        rows = list(csv.DictReader(file))
    worst, where = 0.0, ""
    for stream in CHECKED:
        want_total = sum(columns[f"plan.{stream}.{p}"] for p in PARTS)
        for part in PARTS + (("salts",) if stream == "curd" else ()):
            got, want = np.array([float(r[f"{stream}_{part}"]) for r in rows]), columns[f"plan.{stream}.{part}"][:len(rows)]
            apart = np.max(np.abs(got - want) / np.maximum(np.abs(want), 1e-3 * want_total[:len(rows)]))
            worst, where = max((worst, where), (float(apart), f"{stream} {part}"))
    print(f"{len(rows)} rows of the spreadsheet against the C++ plan: largest difference {worst:.1e} ({where})")
    return 0 if worst <= TOLERANCE else 1


def main():
    if sys.argv[1] == "write":
        return write(sys.argv[2], sys.argv[3], int(sys.argv[4]), "--values" in sys.argv)
    return check(sys.argv[2], sys.argv[3])


if __name__ == "__main__":
    sys.exit(main())
