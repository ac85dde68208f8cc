#!/usr/bin/env python3
"""Plots how the reach stage grows: growth.py BENCH OUT.svg runs BENCH and draws its times.

Three panels: with triangles, with pairs, with threads. Needs nothing but Python.
"""

import json
import math
import re
import subprocess
import sys

WIDTH, HEIGHT, LEFT, BOTTOM, TOP = 300, 240, 52, 44, 34


def measured(bench):
    """(triangles, pairs, threads, seconds) of every size, from one run."""
    command = [bench, "--benchmark_filter=reach_stage", "--benchmark_format=json"]
    report = json.loads(subprocess.run(command, check=True, stdout=subprocess.PIPE).stdout)
    points = []
    for entry in report["benchmarks"]:
        size = {key: int(value) for key, value in re.findall(r"(\w+):(\d+)", entry["name"])}
        points.append((size["triangles"], size["stations"] * size["points"], size["threads"],
                       entry["real_time"] / 1000))
    return points


def short(number):
    for limit, letter in ((1e6, "M"), (1e3, "k")):
        if number >= limit:
            return f"{number / limit:.3g} {letter}"
    return f"{number:g}"


def panel(x, title, label, points, straight):
    """One plot, both axes logarithmic; `straight`: also the line of proportional growth."""
    points = sorted(points)
    xs, ys = [math.log10(p[0]) for p in points], [math.log10(p[1]) for p in points]
    low, high = min(ys) - 0.2, max(ys) + 0.2
    if straight:
        high = max(high, ys[0] + xs[-1] - xs[0])
    wide, tall = WIDTH - LEFT - 24, HEIGHT - BOTTOM - TOP

    def at(px, py):
        across = (px - xs[0]) / max(xs[-1] - xs[0], 1e-9)
        return x + LEFT + across * wide, TOP + tall * (1 - (py - low) / (high - low))

    out = [f'<text x="{x + LEFT}" y="18" font-weight="bold">{title}</text>',
           f'<rect x="{x + LEFT}" y="{TOP}" width="{wide}" height="{tall}" fill="none" '
           'stroke="#999"/>']
    if straight:
        (ax, ay), (bx, by) = at(xs[0], ys[0]), at(xs[-1], ys[0] + xs[-1] - xs[0])
        out.append(f'<path d="M{ax:.1f},{ay:.1f}L{bx:.1f},{by:.1f}" stroke="#999" '
                   'stroke-dasharray="4 3" fill="none"/>')
    path = "L".join("{:.1f},{:.1f}".format(*at(px, py)) for px, py in zip(xs, ys))
    out.append(f'<path d="M{path}" stroke="#0072B2" stroke-width="2" fill="none"/>')
    for (number, seconds), px, py in zip(points, xs, ys):
        cx, cy = at(px, py)
        out.append(f'<circle cx="{cx:.1f}" cy="{cy:.1f}" r="3.5" fill="#0072B2"/>')
        out.append(f'<text x="{cx:.1f}" y="{cy - 8:.1f}" text-anchor="middle">{seconds:.2g} s</text>')
        out.append(f'<text x="{cx:.1f}" y="{TOP + tall + 15}" text-anchor="middle">'
                   f'{short(number)}</text>')
    out.append(f'<text x="{x + LEFT + wide / 2}" y="{HEIGHT - 8}" text-anchor="middle">{label}</text>')
    return "\n".join(out)


def main():
    bench, out = sys.argv[1:3]
    points = measured(bench)
    most = 1_000_000
    panels = [
        ("with triangles", "triangles", [(t, s) for t, p, n, s in points if p == most and n == 2], False),
        ("with pairs", "pairs", [(p, s) for t, p, n, s in points if t == most and n == 2], True),
        ("with threads", "threads", [(n, s) for t, p, n, s in points if t == most and p == most], False),
    ]
    body = [panel(i * WIDTH, *one) for i, one in enumerate(panels)]
    with open(out, "w", encoding="utf-8") as file:
        file.write(f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {3 * WIDTH} {HEIGHT}" '
                   'font-family="sans-serif" font-size="11">\n'
                   f'<rect width="{3 * WIDTH}" height="{HEIGHT}" fill="#fff"/>\n'
                   + "\n".join(body) + "\n</svg>\n")


if __name__ == "__main__":
    main()
