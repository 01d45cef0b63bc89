"""Thirty generated days, run by a discrete-event library: writes days.csv, sets.csv, flights.csv (what is planned) and expected.csv (what
comes of it). simpy 4.1.2, Python 3.11; whole seconds, whole watts; seed 13."""

import csv
import random

import simpy

DAYS = 30
NO_LIMIT_W = 10**9


def made(random):
    """A day: numbers, kinds of sets, flights."""
    start = random.randrange(5, 9) * 3600
    day = {
        "start_s": start,
        "wrap_s": start + random.randrange(4, 13) * 3600 + random.randrange(3600),
        "turn_round_s": random.choice([120, 300, 480, 700]),
        "cool_down_s": random.choice([0, 600, 1200, 1801]),
        "warm_up_s": random.choice([0, 0, 300, 601]),
        "chargers": random.randrange(1, 7),
        "supply_limit_w": random.choice([0, 0, 1500, 2200, 3000, 4700]),
    }
    kinds = [
        {"count": random.randrange(1, 7), "available_from_s": random.choice([0, 0, start + 3600])}
        for _ in range(random.randrange(1, 4))
    ]
    flights, earliest = [], start
    for _ in range(random.randrange(5, 45)):
        earliest += random.choice([0, 0, 0, 0, 900, 1800, 5000])
        full = random.randrange(1500, 7000)
        peak = random.randrange(200, 1500)
        steps = [(full, peak)]
        for share in (75, 50, 25)[: random.randrange(0, 4)]:
            steps.append((random.randrange(60, 900), peak * share // 100))
        flights.append(
            {
                "set": random.randrange(len(kinds)),
                "earliest_s": earliest,
                "duration_s": random.randrange(240, 1300),
                "steps": steps,
            }
        )
    return day, kinds, flights


def run(day, kinds, flights):
    """Rows: flight, start, landing, start and end of its charge."""
    environment = simpy.Environment(initial_time=day["start_s"])
    chargers = simpy.Resource(environment, capacity=day["chargers"])
    limit = day["supply_limit_w"] or NO_LIMIT_W
    power = simpy.Container(environment, capacity=limit, init=limit)
    stores = [simpy.Store(environment) for _ in kinds]
    rows = []

    def arrives(kind):
        yield environment.timeout(max(0, kinds[kind]["available_from_s"] - day["start_s"]) + day["warm_up_s"])
        yield stores[kind].put("set")

    def recharged(flight, row):
        yield environment.timeout(day["cool_down_s"])
        with chargers.request() as charger:
            yield charger
            yield power.get(flight["steps"][0][1])
            row["charge_start_s"] = environment.now
            held = flight["steps"][0][1]
            for index, (duration, watts) in enumerate(flight["steps"]):
                if watts < held:
                    yield power.put(held - watts)
                    held = watts
                yield environment.timeout(duration)
            if held:
                yield power.put(held)
            row["charge_end_s"] = environment.now
        yield environment.timeout(day["warm_up_s"])
        yield stores[flight["set"]].put("set")

    def crew():
        for index, flight in enumerate(flights):
            if environment.now < flight["earliest_s"]:
                yield environment.timeout(flight["earliest_s"] - environment.now)
            yield stores[flight["set"]].get()
            if environment.now + flight["duration_s"] > day["wrap_s"]:
                return
            row = {"flight": index, "start_s": environment.now}
            rows.append(row)
            yield environment.timeout(flight["duration_s"])
            row["landed_s"] = environment.now
            environment.process(recharged(flight, row))
            yield environment.timeout(day["turn_round_s"])

    for kind, own in enumerate(kinds):
        for _ in range(own["count"]):
            environment.process(arrives(kind))
    environment.process(crew())
    environment.run()
    return rows


def write(name, columns, rows):
    with open(name, "w", newline="") as file:
        out = csv.DictWriter(file, columns, lineterminator="\n")
        out.writeheader()
        out.writerows(rows)


def main():
    source = random.Random(13)
    days, sets, planned, expected = [], [], [], []
    for number in range(DAYS):
        day, kinds, flights = made(source)
        days.append({"day": number, **day})
        sets += [{"day": number, "set": index, **kind} for index, kind in enumerate(kinds)]
        for index, flight in enumerate(flights):
            steps = "/".join(f"{duration}:{watts}" for duration, watts in flight["steps"])
            planned.append({"day": number, "flight": index, "steps_s_w": steps, **{key: value for key, value in flight.items() if key != "steps"}})
        expected += [{"day": number, **row} for row in run(day, kinds, flights)]
    numbers = ["start_s", "wrap_s", "turn_round_s", "cool_down_s", "warm_up_s", "chargers", "supply_limit_w"]
    write("days.csv", ["day", *numbers], days)
    write("sets.csv", ["day", "set", "count", "available_from_s"], sets)
    write("flights.csv", ["day", "flight", "set", "earliest_s", "duration_s", "steps_s_w"], planned)
    write("expected.csv", ["day", "flight", "start_s", "landed_s", "charge_start_s", "charge_end_s"], expected)


main()
