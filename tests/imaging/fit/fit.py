#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""fit.py -- fits the network of core-segment-net.c on drawn strips.

    fit.py train OUT.npz ROUNDS STRIPS...   (files of draw-strips)
    fit.py rows  OUT.npz ROUNDS STRIPS...   (goes on from OUT.npz, through the recursion)
    fit.py table IN.npz HEADER.h
    fit.py score IN.npz STRIPS...           (count head alone)

Numpy and a C compiler (trunk.c, for speed alone), one seed (SEED), plain Adam. Lanes are mirrored, stretched and
shifted by 2.5 %, noise is added, lanes dropped, the sign of the light flipped
in a quarter, the colours' in half, so that the net learns sutures and not how
they were drawn. First each line by itself (train), then the whole row of plates
through the recursion of core-segment.c (rows). The recipe of the pictures is in recipe.c.
"""
import ctypes
import os
import subprocess
import sys
import tempfile
import time

import numpy as np

SEED = 20260501
LANES, N, C, TAPS, BINS, OUT = 11, 256, 24, 9, 16, 8
LEAK = np.float32(0.1)
DILATION = (1, 2, 4)
RECORD = 33 * N + 56
COUNT_WEIGHT = 4.0
ROWS_WEIGHT, LINE_WEIGHT = 3.0, 0.1  # when fitted through the recursion


def load(files):
    xs, ts = [], []
    for name in files:
        raw = np.fromfile(name, np.int8)
        raw = raw[: raw.size // RECORD * RECORD].reshape(-1, RECORD)
        xs.append(raw[:, : 33 * N].reshape(-1, 33, N).copy())
        ts.append(np.frombuffer(raw[:, 33 * N:].tobytes(), "<f4").reshape(-1, 14).copy())
    return np.concatenate(xs), np.concatenate(ts)


def count_index(t):
    k = t[:, 1].astype(int)
    return np.where(k == 0, 0, np.clip(k - 3, 1, 7))


def new_net(rng):
    net = {}
    for i, n_in in enumerate((33, C, C)):
        net[f"w{i}"] = (rng.standard_normal((C, n_in * TAPS)) * np.sqrt(2.0 / (n_in * TAPS))).astype(np.float32)
        net[f"b{i}"] = np.zeros(C, np.float32)
    net["w3"] = (rng.standard_normal((C, 2 * C)) * 0.03).astype(np.float32)  # whole strip
    net["wl"] = (rng.standard_normal((1, C)) * 0.1).astype(np.float32)
    net["bl"] = np.full(1, -3.0, np.float32)
    net["wc"] = np.zeros((OUT, C * BINS), np.float32)
    net["bc"] = np.zeros(OUT, np.float32)
    return net


_made = {}


def fast(name):
    """trunk.c or rows.c, compiled on first use into a temporary folder"""
    if name not in _made:
        here = os.path.dirname(os.path.abspath(__file__))
        made = os.path.join(tempfile.mkdtemp(), name + ".so")
        subprocess.run(["cc", "-O3", "-march=native", "-ffast-math", "-shared", "-fPIC", "-I",
                        os.path.join(here, "../../../src"), os.path.join(here, name + ".c"), "-o", made, "-lm"],
                       check=True)
        _made[name] = ctypes.CDLL(made)
    return _made[name]


def pointer(array):
    return array.ctypes.data_as(ctypes.c_void_p)


def rows_loss(line, pos, plates):
    """-log p (the true row) summed over the batch, and its gradient"""
    line = np.ascontiguousarray(line, np.float32)
    pos = np.ascontiguousarray(pos, np.float32)
    plates = np.ascontiguousarray(plates, np.int32)
    gradient = np.empty_like(line)
    call = fast("rows").rows_gradient
    call.restype = ctypes.c_double
    loss = call(len(line), pointer(line), pointer(pos), pointer(plates), pointer(gradient))
    return loss, gradient


def addresses(arrays):
    return (ctypes.c_void_p * len(arrays))(*[a.ctypes.data for a in arrays])


def forward(net, x):
    """x: [batch, 33, N]; line [batch, N], count [batch, 8], and what backward needs."""
    b = x.shape[0]
    x = np.ascontiguousarray(x, np.float32)
    w = [np.ascontiguousarray(net[f"w{i}"], np.float32) for i in range(4)]
    a = [np.empty((b, C, N), np.float32) for _ in range(3)]
    bias = [np.ascontiguousarray(net[f"b{i}"], np.float32) for i in range(3)]
    fast("trunk").trunk_forward(b, pointer(x), addresses(w), addresses(bias), addresses(a))
    line = np.einsum("c,bcn->bn", net["wl"][0], a[2]) + net["bl"][0]
    pool = a[2].reshape(b, C, BINS, N // BINS).mean(3).reshape(b, C * BINS)
    count = pool @ net["wc"].T + net["bc"]
    return line, count, (x, w, a, pool)


def backward(net, state, dline, dcount):
    x, w, a, pool = state
    b = len(x)
    dline = dline.astype(np.float32)
    g = {"wc": dcount.T @ pool, "bc": dcount.sum(0)}
    g["wl"] = np.einsum("bn,bcn->c", dline, a[2])[None]
    g["bl"] = dline.sum(keepdims=True).reshape(1)
    da = net["wl"][0][None, :, None] * dline[:, None, :]
    dp = (dcount @ net["wc"]).reshape(b, C, BINS) / (N // BINS)
    da = np.ascontiguousarray(da + np.repeat(dp, N // BINS, axis=2), np.float32)
    gw = [np.zeros_like(v) for v in w]
    gb = [np.zeros(C, np.float32) for _ in range(3)]
    fast("trunk").trunk_backward(b, pointer(x), addresses(a), addresses(w),
                          pointer(da), addresses(gw), addresses(gb))
    for i in range(3):
        g[f"w{i}"], g[f"b{i}"] = gw[i], gb[i]
    g["w3"] = gw[3]
    return g


def augment(x, t, rng):
    """New strips and targets; positions follow the stretch."""
    b = len(x)
    x = x.astype(np.float32) / 127.0
    x = x.reshape(b, 3, LANES, N)
    flip = rng.random(b) < 0.5
    x[flip] = x[flip][:, :, ::-1]
    for c, share in ((0, 0.25), (1, 0.5), (2, 0.5)):
        x[rng.random(b) < share, c] *= -1
    swap = rng.random(b) < 0.3
    x[swap, 1:] = x[swap, :0:-1]
    # stretch and shift: new share = (old - shift) * stretch
    stretch = 1 + 0.025 * rng.standard_normal(b)
    shift = 0.02 * rng.standard_normal(b)
    grid = (np.arange(N) + 0.5) / N
    out = np.empty_like(x)
    for i in range(b):
        at = np.clip((grid / stretch[i] + shift[i]) * N - 0.5, 0, N - 1)
        lo = np.minimum(at.astype(int), N - 2)
        f = (at - lo).astype(np.float32)
        out[i] = x[i][..., lo] * (1 - f) + x[i][..., lo + 1] * f
    pos = np.where(t[:, 2:] >= 0, (t[:, 2:] - shift[:, None]) * stretch[:, None], -1)
    # fainter or stronger than drawn, noise, lost lanes
    gain = np.exp(0.25 * rng.standard_normal((b, 3, 1, 1)))
    out *= gain.astype(np.float32)
    noisy = (0.25 * rng.random((b, 1, 1, 1)) ** 3).astype(np.float32)
    out += noisy * rng.standard_normal(out.shape, dtype=np.float32)
    lost = rng.random((b, 1, LANES, 1)) < 0.08
    out[np.broadcast_to(lost, out.shape)] = 0
    grey = rng.random(b) < 0.1
    out[grey, 1:] = 0
    return np.clip(out, -1.2, 1.2).reshape(b, 33, N), pos


def line_target(pos):
    grid = (np.arange(N) + 0.5)[None, :]
    y = np.zeros((len(pos), N), np.float32)
    for j in range(pos.shape[1]):
        p = pos[:, j: j + 1]
        y = np.maximum(y, np.where((p > 0) & (p < 1), np.exp(-0.5 * ((grid - p * N) / 1.3) ** 2), 0))
    return y.astype(np.float32)


def sigmoid(x):
    return 1 / (1 + np.exp(-np.clip(x, -30, 30)))


def softmax(x):
    e = np.exp(x - x.max(1, keepdims=True))
    return e / e.sum(1, keepdims=True)


def train(name, rounds, files, net=None):
    through_rows = net is not None
    rng = np.random.default_rng(SEED + through_rows)
    x, t = load(files)
    net = net or new_net(rng)
    adam = {k: (np.zeros_like(v), np.zeros_like(v)) for k, v in net.items()}
    batch, step, start = 32, 0, time.time()
    steps = rounds * (len(x) // batch)
    for r in range(rounds):
        order = rng.permutation(len(x))
        loss = right = seen = 0
        for i in range(0, len(order) - batch + 1, batch):
            pick = order[i: i + batch]
            xb, pos = augment(x[pick], t[pick], rng)
            y, k = line_target(pos), count_index(t[pick])
            line, count, state = forward(net, xb)
            p, q = sigmoid(line), softmax(count)
            dline = p - y
            if through_rows:
                value, gradient = rows_loss(line, pos, t[pick, 1])
                loss += value / batch
                dline = ROWS_WEIGHT * gradient + LINE_WEIGHT * dline
            else:
                loss += -(y * np.log(p + 1e-7) + (1 - y) * np.log(1 - p + 1e-7)).sum() / batch
            right += (q.argmax(1) == k).sum()
            seen += batch
            dcount = q.copy()
            dcount[np.arange(batch), k] -= 1
            g = backward(net, state, dline / batch, (COUNT_WEIGHT / batch) * dcount)
            step += 1
            rate = (1.2e-3 if through_rows else 2.5e-3) * min(1, step / 100) * (0.02 + 0.98 * 0.5 * (1 + np.cos(np.pi * step / steps)))
            norm = np.sqrt(sum(float((v * v).sum()) for v in g.values()))
            clip = min(1.0, 30.0 / (norm + 1e-9))
            for key, v in net.items():
                m, s = adam[key]
                grad = g[key].astype(np.float32).reshape(v.shape) * np.float32(clip)
                m *= 0.9
                m += 0.1 * grad
                s *= 0.999
                s += 0.001 * grad * grad
                v -= (rate * (m / (1 - 0.9 ** step)) / (np.sqrt(s / (1 - 0.999 ** step)) + 1e-8)).astype(np.float32)
                if key[0] == "w":
                    v *= np.float32(1 - rate * 0.01)
        print(f"round {r + 1}: loss {loss / (seen / batch):.3f}, count head {right / seen:.3f}, "
              f"{time.time() - start:.0f} s", flush=True)
        np.savez(name, **net)


def score(net, files):
    x, t = load(files)
    right = {}
    for i in range(0, len(x), 64):
        xb = x[i: i + 64].astype(np.float32) / 127
        _, count, _ = forward(net, xb)
        for lv, k, got in zip(t[i: i + 64, 0], count_index(t[i: i + 64]), count.argmax(1)):
            key = "none" if k == 0 else int(lv)
            right.setdefault(key, []).append(k == got)
    for key in sorted(right, key=str):
        print(key, len(right[key]), round(float(np.mean(right[key])), 3))


def rows_of(values, fmt):
    out, row = [], ""
    for v in values:
        word = fmt(v) + ", "
        if len(row) + len(word) > 98:
            out.append("  " + row.rstrip())
            row = ""
        row += word
    return "\n".join(out + ["  " + row.rstrip()])


def quantise(w):
    """int16 with one scale a row"""
    scale = np.abs(w).max(1) / 32767 + 1e-12
    return np.round(w / scale[:, None]).astype(int), scale.astype(np.float32)


def real(v):
    s = f"{float(v):.9g}"
    return (s if "." in s or "e" in s else s + ".0") + "f"


def table(net, header):
    with open(header, "w", encoding="ascii") as f:
        f.write("/* SPDX-License-Identifier: GPL-3.0-or-later */\n"
                "/* core-segment-net-table.h -- generated by tests/imaging/fit/fit.py from drawn\n"
                f" * pictures, seed {SEED}; do not edit. Whole numbers times their row's scale.\n"
                " * clang-format off */\n#pragma once\n\n"
                f"#define SEGMENT_NET_CHANNELS {C}\n")
        for i in range(3):
            q, s = quantise(net[f"w{i}"])
            f.write(f"\nstatic const short segment_net_w{i + 1}[{q.size}] = {{\n{rows_of(q.ravel(), str)}\n}};\n")
            f.write(f"static const float segment_net_s{i + 1}[{C}] = {{\n{rows_of(s, real)}\n}};\n")
            f.write(f"static const float segment_net_b{i + 1}[{C}] = {{\n{rows_of(net[f'b{i}'], real)}\n}};\n")
        q, s = quantise(net["w3"])
        f.write(f"\nstatic const short segment_net_whole[{q.size}] = {{\n{rows_of(q.ravel(), str)}\n}};\n")
        f.write(f"static const float segment_net_whole_s[{C}] = {{\n{rows_of(s, real)}\n}};\n")
        f.write(f"\nstatic const float segment_net_line[{C}] = {{\n{rows_of(net['wl'][0], real)}\n}};\n")
        f.write(f"static const float segment_net_line_bias = {real(net['bl'][0])};\n")
        q, s = quantise(net["wc"].reshape(1, -1))
        f.write(f"\nstatic const short segment_net_count[{q.size}] = {{\n{rows_of(q.ravel(), str)}\n}};\n")
        f.write(f"static const float segment_net_count_scale = {real(s[0])};\n")
        f.write(f"static const float segment_net_count_bias[{OUT}] = {{\n{rows_of(net['bc'], real)}\n}};\n")


def main():
    verb, name = sys.argv[1:3]
    if verb == "train":
        train(name, int(sys.argv[3]), sys.argv[4:])
        return
    net = dict(np.load(name))
    if verb == "rows":
        train(name, int(sys.argv[3]), sys.argv[4:], net)
    elif verb == "table":
        table(net, sys.argv[3])
    elif verb == "score":
        score(net, sys.argv[3:])
    else:
        sys.exit(__doc__)


if __name__ == "__main__":
    main()
