"""Writes the recordings of this folder and expected.json beside them: what was put in, summed up here on its own.

    python3 make.py        (Python 3.11 or later, nothing else)
"""
import json
import random

random.seed(12)


def flight(seconds=300, hz=2, start_v=50.4, sag=0.012, amps=120.0):
    """Rows of time s, volts, amps, mAh as a recorder would round them."""
    rows, used = [], 0.0
    for step in range(seconds * hz + 1):
        t = step / hz
        i = 12.0 if t < 10 else round(amps + 8 * ((step * 7) % 11 - 5) / 5, 1)
        v = round(start_v - sag * t - i * 0.012, 2)
        if rows:
            used += (i + rows[-1][2]) / 2 / hz / 3.6
        rows.append((t, v, i, round(used, 1)))
    return rows


def trapezoid(rows, f):
    return sum((f(a) + f(b)) / 2 * (b[0] - a[0]) for a, b in zip(rows, rows[1:]))


def totals(rows, counter=True):
    out = {"rows": len(rows), "duration_s": rows[-1][0] - rows[0][0], "lowest_voltage_v": min(r[1] for r in rows)}
    out["used_mah"] = rows[-1][3] - rows[0][3] if counter else trapezoid(rows, lambda r: r[2]) / 3.6
    out["energy_wh"] = trapezoid(rows, lambda r: r[1] * r[2]) / 3600
    return out


EXPECTED = {}


def write(name, text, expected, encoding="utf-8"):
    with open(name, "wb") as out:
        out.write(text.encode(encoding))
    EXPECTED[name] = expected


def lines(rows, sep=",", end="\n"):
    return end.join(sep.join(str(cell) for cell in row) for row in rows) + end


def clock(t, start=0.0):
    t = (t + start) % 86400
    return f"{int(t // 3600):02d}:{int(t // 60 % 60):02d}:{t % 60:06.3f}"


base = flight()
named = "Time (s),Voltage (V),Current (A),Used (mAh)\n"
write("plain.csv", named + lines(base), totals(base) | {"faults": [], "delimiter": ",", "decimal_mark": "."})

comma = [tuple(str(x).replace(".", ",") for x in r) for r in base]
write("decimal_comma.csv", "Zeit [s];Spannung [V] voltage;Strom current [A];mAh\r\n" + lines(comma, ";", "\r\n"),
      totals(base) | {"faults": [], "delimiter": ";", "decimal_mark": ","})

write("tabs_no_titles.txt", lines(base, "\t"), totals(base) | {"faults": [], "delimiter": "tab", "time_form": "seconds"})

milli = [(int(r[0] * 1000) + 1764128676000, int(r[1] * 1000), int(round(r[2] * 1000))) for r in base]
write("milli_units.csv", "timestamp,vbat_mV,current_mA\n" + lines(milli),
      totals(base, counter=False) | {"faults": [], "time_form": "milliseconds"})

late = [(f"11/25/2026 {clock(r[0], 86400 - 100)}" if r[0] < 100 else f"11/26/2026 {clock(r[0], 86400 - 100)}", *r[1:])
        for r in base]
write("over_midnight.csv", "Date Time,Volts,Amps,mAh\n" + lines(late), totals(base) | {"faults": [], "time_form": "clock"})

quoted = [(f'"{r[0]}"', f'"{r[1]} V"', f'"{r[2]}"', f'"{r[3]}"') for r in base]
write("quoted_with_bom.csv", "\ufeff# recorder, free text\n# more, of it\n\n" + '"Time","Bus voltage","Amps","Consumed"\n"s","V","A","mAh"\n' + lines(quoted),
      totals(base) | {"faults": [], "lines_above": 5})

shuffled = base[:]
for place in range(20, len(base) - 20, 40):
    shuffled[place], shuffled[place + 3] = shuffled[place + 3], shuffled[place]
late_rows = 0
latest = -1.0
for r in shuffled:
    late_rows += r[0] < latest
    latest = max(latest, r[0])
write("out_of_order.csv", named + lines(shuffled), totals(base) | {"faults": ["out-of-order"], "late_rows": late_rows})

gap = [r for r in base if not 100 < r[0] < 140]
write("gap.csv", named + lines(gap), totals(gap) | {"faults": ["gaps"]})

again = lines(base[:200]) + named + lines(base[200:400]) + named + lines(base[400:])
write("repeated_titles.csv", named + again, totals(base) | {"faults": ["repeated-titles"]})

reset = [(t, v, i, q if t < 150 else round(q - base[300][3], 1)) for t, v, i, q in base]
# What was drawn between the last row before the reset and the first after it is lost with the counter.
lost = base[300][3] - base[299][3]
write("counter_reset.csv", named + lines(reset),
      totals(base) | {"used_mah": base[-1][3] - lost, "faults": ["counter-reset"]})

ran = [(t, v, i, round(q + 1500, 1)) for t, v, i, q in base]
write("counter_ran_before.csv", named + lines(ran), totals(base) | {"faults": ["counter-ran-before"]})

half = [(t, v, i) for t, v, i, _ in base]
joined = half + half
joined_rows = half + [(t + 300.5, v, i) for t, v, i in half]
write("restarted.csv", "time,volt,amp\n" + lines(half) + "time,volt,amp\n" + lines(half),
      totals([(*r, 0) for r in joined_rows], counter=False) | {"faults": ["repeated-titles", "recorder-restarted"]})

broken = "".join(line + "\n" if n % 50 else "!!corrupt!!\n" + line + "\n" for n, line in enumerate(lines(base).splitlines(), 1))
write("corrupt_lines.csv", named + broken, totals(base) | {"faults": ["unreadable-rows"]})

holes = [(t, v if n % 10 else "", i, q) for n, (t, v, i, q) in enumerate(base, 1)]
write("missing_cells.csv", named + lines(holes), {"rows": len(base), "duration_s": 300.0, "used_mah": base[-1][3], "faults": ["incomplete-rows"]})

dropped = [(t, 0.0 if n % 100 == 0 else v, i, q) for n, (t, v, i, q) in enumerate(base, 1)]
write("voltage_dropouts.csv", named + lines(dropped),
      {"rows": len(base), "used_mah": base[-1][3], "lowest_voltage_v": min(r[1] for r in dropped if r[1] > 0), "faults": ["dropouts"]})

many = [(r[0], round(r[1] / 12, 3), r[1], 5.02, r[2], r[3], round(10 + 0.1 * r[0], 1), 3.6) for r in base]
write("many_columns.csv", "Elapsed time (s);Lowest cell (V);Pack voltage (V);5V rail (V);Current (A);Battery used (mAh);Altitude (m);Ground speed (km/h)\n"
      + lines(many, ";"), totals(base) | {"faults": [], "columns": {"voltage": "Pack voltage (V)", "altitude": "Altitude (m)", "speed": "Ground speed (km/h)"}})

write("old_line_ends.csv", named.strip() + "\r" + lines(base, end="\r"), totals(base) | {"faults": []})
write("only_counter.csv", "t,V,Ah\n" + lines([(r[0], r[1], round(r[3] / 1000, 4)) for r in base]),
      {"rows": len(base), "used_mah": base[-1][3], "faults": []})
wrong = [(t, v, round(i * 0.8, 1), q) for t, v, i, q in base]
write("counter_against_current.csv", named + lines(wrong),
      {"rows": len(base), "used_mah": base[-1][3], "faults": ["counter-against-current"]})

minus = [(t, v, -i) for t, v, i, _ in base]
write("negative_current.csv", "t,V,A\n" + lines(minus), totals(base, counter=False) | {"faults": ["negative-current"]})
left = [(t, v, i, round(14000 - q, 1)) for t, v, i, q in base]
write("counts_down.csv", named + lines(left), totals(base) | {"faults": ["counter-down"]})

write("empty.csv", "", {"fault": "file"})
write("words_only.csv", "this is,not a\nrecording,at all\n", {"fault": "file"})
write("utf16.csv", named + lines(base[:20]), {"fault": "file"}, "utf-16")
write("no_time.csv", "Voltage (V),Current (A)\n" + lines([(50.1, 100.0), (50.0, 90.0), (49.9, 120.0), (50.2, 80.0)]), {"fault": "time"})
write("no_figures.csv", "Time (s),Satellites\n" + lines([(t, 12) for t in range(20)]), {"fault": "columns"})
write("one_row.csv", named + "0.0,50.0,100.0,0.0\n", {"rows": 1, "duration_s": 0.0, "used_mah": 0.0, "faults": []})

with open("expected.json", "w") as out:
    json.dump(EXPECTED, out, indent=1)
    out.write("\n")
