"""Poses curve documents: from keys to the positions and orientations of nodes.

Reads a JSON list of jobs, {"document": {...}, "frames": [1, 1.5, 2]}, from standard
input and prints a JSON list with one entry per job,

    {"NODE ID": {"position": [[x, y, z], ...], "orientation": [[x, y, z, w], ...]}, ...}

with one position (metres) and one orientation (unit quaternion) per frame, in a
world whose y axis points up. `space.metresPerUnit` has to be given.

Vectors are lists of three numbers, quaternions are lists [x, y, z, w].
"""

import json
import math
import sys
from bisect import bisect_left
from collections import namedtuple

# A key of a curve. `interpolation` is that of the segment that starts here;
# `slope_in` and `slope_out` are what the key gives as `in` and `out`, or None.
Key = namedtuple("Key", "frame value interpolation slope_in slope_out")

NO_TURN = [0.0, 0.0, 0.0, 1.0]
TURN_TO_Y_UP = {"x": [0, 0, 0.5**0.5, 0.5**0.5], "y": NO_TURN, "z": [-0.5**0.5, 0, 0, 0.5**0.5]}


# Vectors and quaternions

def dot(a, b):
    return sum(x * y for x, y in zip(a, b))


def scaled(a, factor):
    return [x * factor for x in a]


def total(*vectors):
    return [sum(numbers) for numbers in zip(*vectors)]


def cross(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def unit(q):
    """A quaternion at length 1; no turn for one of length 0."""
    size = math.hypot(*q)
    return scaled(q, 1 / size) if size > 0 else NO_TURN


def conjugate(q):
    return [-q[0], -q[1], -q[2], q[3]]


def product(p, q):
    """The quaternion that turns by q first and then by p."""
    sides = total(scaled(q[:3], p[3]), scaled(p[:3], q[3]), cross(p[:3], q[:3]))
    return sides + [p[3] * q[3] - dot(p[:3], q[:3])]


def turned(q, vector):
    """A vector after the turn of a unit quaternion."""
    return product(product(q, vector + [0.0]), conjugate(q))[:3]


def exp(r):
    """The quaternion of a rotation vector."""
    angle = math.hypot(*r)
    return scaled(r, math.sin(angle / 2) / angle if angle > 0 else 0.5) + [math.cos(angle / 2)]


# All curves

def keys_of(curve):
    """The keys of a curve in order of time; of several at one frame the last in the text."""
    by_frame = {}
    for frame, value, *rest in curve.get("keys", []):
        extra = rest[0] if rest else {}
        kind = extra.get("interpolation") or curve.get("interpolation") or "linear"
        by_frame[frame] = Key(frame, value, kind, extra.get("in"), extra.get("out"))
    return [by_frame[frame] for frame in sorted(by_frame)]


def value_at(keys, time, between):
    """The value of a curve; `between(keys, i, u)` gives it inside the segment from key i."""
    i = bisect_left(keys, (time,))
    if i == len(keys):
        return keys[-1].value
    if i == 0 or keys[i].frame == time:
        return keys[i].value
    first, second = keys[i - 1:i + 1]
    if first.interpolation == "step":
        return first.value
    return between(keys, i - 1, (time - first.frame) / (second.frame - first.frame))


def is_flat(keys, i):
    """Whether a key is the first or the last, or has a step beside it."""
    return i == 0 or i == len(keys) - 1 or "step" in (keys[i - 1].interpolation, keys[i].interpolation)


def hermite(u, h, v0, s0, v1, s1):
    """The Hermite cubic between two values with slopes per frame."""
    return ((2 * u**3 - 3 * u**2 + 1) * v0 + (u**3 - 2 * u**2 + u) * h * s0
            + (3 * u**2 - 2 * u**3) * v1 + (u**3 - u**2) * h * s1)


# Curves of one number

def number_between(keys, i, u):
    """The value of a curve of numbers inside the segment from key i."""
    first, second = keys[i], keys[i + 1]
    v0, v1, h = first.value, second.value, second.frame - first.frame
    if first.interpolation == "linear":
        return v0 + u * (v1 - v0)
    if first.interpolation == "smooth":
        return hermite(u, h, v0, smooth_slope(keys, i), v1, smooth_slope(keys, i + 1))
    if first.interpolation == "cubic":
        return hermite(u, h, v0, cubic_slope(keys, i, first.slope_out),
                       v1, cubic_slope(keys, i + 1, second.slope_in))
    r0, w0 = bezier_handle(keys, i, first.slope_out, h, 1)
    r1, w1 = bezier_handle(keys, i + 1, second.slope_in, h, -1)
    s = bezier_parameter(r0 / h, 1 - r1 / h, u)
    return ((1 - s)**3 * v0 + 3 * (1 - s)**2 * s * (v0 + w0)
            + 3 * (1 - s) * s**2 * (v1 + w1) + s**3 * v1)


def smooth_slope(keys, i):
    """The slope through a key and its neighbours that does not overshoot."""
    if is_flat(keys, i):
        return 0.0
    before, key, after = keys[i - 1:i + 2]
    ha, hb = key.frame - before.frame, after.frame - key.frame
    a, b = (key.value - before.value) / ha, (after.value - key.value) / hb
    if a == 0 or b == 0 or (a > 0) != (b > 0):
        return 0.0
    parabola = (a * hb + b * ha) / (ha + hb)
    return math.copysign(min(abs(parabola), 2 * abs(a), 2 * abs(b)), parabola)


def cubic_slope(keys, i, given):
    """The slope of key i on a cubic segment; `given` is its `in` or `out`."""
    if given is None or isinstance(given, list) and abs(given[0]) < 1e-6:
        return smooth_slope(keys, i)
    return given[1] / given[0] if isinstance(given, list) else given


def bezier_handle(keys, i, given, h, side):
    """The run (0 to h) and value of a handle of key i; `side` is 1 for its `out`, -1 for its `in`."""
    if not isinstance(given, list):
        slope = smooth_slope(keys, i) if given is None else given
        return h / 3, side * slope * h / 3
    run, value = side * given[0], given[1]
    return (h, value * h / run) if run > h else (max(run, 0), value)


def bezier_parameter(x1, x2, u):
    """The parameter at which the time of a Bezier curve is u, by bisection."""
    low, high = 0.0, 1.0
    for _ in range(64):
        s = (low + high) / 2
        x = 3 * (1 - s)**2 * s * x1 + 3 * (1 - s) * s**2 * x2 + s**3
        if x == u:
            break
        low, high = (s, high) if x < u else (low, s)
    return s


# Curves of quaternions

def quaternion_between(keys, i, u):
    """The value of a curve of quaternions inside the segment from key i, of any length."""
    first, second = keys[i], keys[i + 1]
    h = second.frame - first.frame
    if first.interpolation == "cubic":
        ends = zip(first.value, quaternion_slope(keys, i, first.slope_out),
                   second.value, quaternion_slope(keys, i + 1, second.slope_in))
        return [hermite(u, h, *end) for end in ends]
    r = arc(first, second)
    if first.interpolation == "linear":
        return product(unit(first.value), exp(scaled(r, u)))
    velocity, rate = smooth_velocity(keys, i), vector_rate(r, smooth_velocity(keys, i + 1))
    return product(unit(first.value), exp([hermite(u, h, 0, *end) for end in zip(velocity, r, rate)]))


def arc(first, second):
    """The rotation vector from one key to another by the shortest way."""
    turn = product(conjugate(unit(first.value)), unit(second.value))
    if turn[3] < 0:
        turn = scaled(turn, -1)
    m = math.hypot(*turn[:3])
    return scaled(turn[:3], 2 * math.atan2(m, turn[3]) / m) if m > 0 else [0.0, 0.0, 0.0]


def smooth_velocity(keys, i):
    """The turn at a key in radians per frame, as a vector in the axes of the key."""
    if is_flat(keys, i):
        return [0.0, 0.0, 0.0]
    before, key, after = keys[i - 1:i + 2]
    ha, hb = key.frame - before.frame, after.frame - key.frame
    a, b = arc(before, key), arc(key, after)
    if dot(a, b) <= 0:
        return [0.0, 0.0, 0.0]
    velocity = scaled(total(scaled(a, hb / ha), scaled(b, ha / hb)), 1 / (ha + hb))
    limit = 2 * dot(a, b) / max(math.hypot(*a) * hb, math.hypot(*b) * ha)
    return scaled(velocity, min(1, limit / math.hypot(*velocity)))


def vector_rate(r, velocity):
    """The rate of the rotation vector r whose turn has a velocity at its end (J)."""
    angle = math.hypot(*r)
    k = 1 / 12 if angle < 0.001 else 1 / angle**2 - 1 / (2 * angle * math.tan(angle / 2))
    sideways = cross(r, velocity)
    return total(velocity, scaled(sideways, 1 / 2), scaled(cross(r, sideways), k))


def quaternion_slope(keys, i, given):
    """The four slopes of key i on a cubic segment; `given` is its `in` or `out`."""
    if given is not None:
        return given
    return scaled(product(keys[i].value, smooth_velocity(keys, i) + [0.0]), 1 / 2)


# Nodes

def curves_by_node(document):
    """The curves that count, as {node id: {channel: keys}}."""
    found = {}
    for curve in document.get("curves", []):
        if curve.get("keys"):
            found.setdefault(curve["node"], {}).setdefault(curve["channel"], keys_of(curve))
    return found


def three_numbers(node, name, default, curves, time):
    """A node's translation, rotation or scale; its curves replace its own numbers."""
    numbers = list(node.get(name, default))
    for i, axis in enumerate("xyz"):
        if f"{name}.{axis}" in curves:
            numbers[i] = value_at(curves[f"{name}.{axis}"], time, number_between)
    return numbers


def turn_of(node, curves, time, radians_per_angle):
    """The turn of a node against its parent, its fixed rotation included."""
    turn = unit(node.get("fixedRotation", NO_TURN))
    if "rotation" in curves:
        return product(turn, unit(value_at(curves["rotation"], time, quaternion_between)))
    angles = three_numbers(node, "rotation", [0, 0, 0], curves, time)
    for axis in node.get("rotationOrder", "xyz"):
        vector = [angle * radians_per_angle * (axis == name) for angle, name in zip(angles, "xyz")]
        turn = product(turn, exp(vector))
    return turn


def parents_first(nodes):
    """The ids of nodes, each behind its parent. A circle of parents is cut somewhere."""
    order = {}
    for name in nodes:
        chain = {}
        while name in nodes and name not in order and name not in chain:
            chain[name] = True
            name = nodes[name].get("parent")
        order.update(reversed(list(chain.items())))
    return list(order)


def pose(document, frames):
    """The positions and orientations of all nodes at some frames."""
    space = document["space"]
    radians_per_angle = 1 if space.get("angle") == "radians" else math.pi / 180
    nodes = {node["id"]: node for node in document.get("nodes", [])}
    curves, order = curves_by_node(document), parents_first(nodes)
    up = TURN_TO_Y_UP[space.get("up", "y")]
    # Of a matrix M its rows are kept. A row of M · turn is that row turned backwards.
    root = [0, 0, 0], [turned(conjugate(up), axis) for axis in ([1, 0, 0], [0, 1, 0], [0, 0, 1])], up
    poses = {name: {"position": [], "orientation": []} for name in nodes}
    for time in frames:
        world = {}
        for name in order:
            node, own = nodes[name], curves.get(name, {})
            position, rows, orientation = world.get(node.get("parent"), root)
            translation = three_numbers(node, "translation", [0, 0, 0], own, time)
            scale = three_numbers(node, "scale", [1, 1, 1], own, time)
            turn = turn_of(node, own, time, radians_per_angle)
            position = total(position, [dot(row, translation) for row in rows])
            rows = [[x * size for x, size in zip(turned(conjugate(turn), row), scale)] for row in rows]
            orientation = unit(product(orientation, turn))
            world[name] = position, rows, orientation
            poses[name]["position"].append(scaled(position, space["metresPerUnit"]))
            poses[name]["orientation"].append(orientation)
    return poses


if __name__ == "__main__":
    json.dump([pose(job["document"], job["frames"]) for job in json.load(sys.stdin)], sys.stdout)
    print()
