#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""fit.py -- fits the networks of core-segment-net.c on drawn strips.

    fit.py train OUT.npz SEED MINUTES BLANK STRIPS...  (files of draw-strips, kind fit)
    fit.py score IN.npz... -- BLANK STRIPS...          (count right, by level and by part)
    fit.py table IN.npz... -- HEADER.h REFERENCE.h     (weights; what they must answer)

Needs torch; a CUDA device where there is one. BLANK is what `calibrate blank` prints: the
templates of core-segment.c, and their sums without evidence. One network learns from
everything at once: the posterior over counts as core-segment.c makes it (recursion over
plate lengths and count head, mixed), the places of the boundaries given the true count,
each line by itself, and the count head alone. Lanes are mirrored, strips stretched and
shifted a little, noise added, lanes dropped, the sign of light and colour flipped, so
that it learns sutures and not how they were drawn. The recipe of the pictures is recipe.c.
"""
import math
import os
import sys
import time

import numpy as np
import torch
import torch.nn.functional as F

LANES, N, C, TAPS, BINS, HIDDEN, COUNTS = 11, 256, 30, 9, 16, 20, 8
DILATION = (1, 2, 4, 8)
LEAK = 0.1
RECORD = 33 * N + 56
BATCH = 512
MARGIN, SHORTEST, LONGEST, CLIP, NEAR = 20, 6, 132, 12.0, 4.0  # as core-segment.c; NEAR: samples
SPAN = N + 2 * MARGIN + 1
PRIOR = (.06, .03, .09, .27, .16, .27, .09, .03)
DEVICE = "cuda" if torch.cuda.is_available() else "cpu"


def load(files):
    raw = [np.fromfile(name, np.int8) for name in files]
    raw = np.concatenate([r[: r.size // RECORD * RECORD].reshape(-1, RECORD) for r in raw])
    x = torch.from_numpy(raw[:, : 33 * N].reshape(-1, 3, LANES, N).copy()).to(DEVICE)
    t = torch.from_numpy(np.frombuffer(raw[:, 33 * N:].tobytes(), "<f4").reshape(-1, 14).copy())
    return x, t.to(DEVICE)


def index_of(t):
    k = t[:, 1].long()
    return torch.where(k == 0, k, (k - 3).clamp(1, 7))


class Net(torch.nn.Module):
    """The same sums as core_segment_net, one reading (not mirrored)."""

    def __init__(self):
        super().__init__()
        self.conv = torch.nn.ModuleList(
            torch.nn.Conv1d(33 if d == 1 else C, C, TAPS, dilation=d, padding=4 * d) for d in DILATION)
        self.whole = torch.nn.Linear(2 * C, C, bias=False)
        self.line = torch.nn.Conv1d(C, 1, 1)
        self.count1 = torch.nn.Linear(C * BINS, HIDDEN)
        self.count2 = torch.nn.Linear(HIDDEN, COUNTS)
        self.mix = torch.nn.Parameter(torch.tensor([0.7, 0.5]))
        for c in self.conv:
            torch.nn.init.kaiming_normal_(c.weight, a=LEAK, nonlinearity="leaky_relu")
            torch.nn.init.zeros_(c.bias)
        torch.nn.init.normal_(self.whole.weight, std=0.03)
        torch.nn.init.constant_(self.line.bias, -3.0)
        torch.nn.init.zeros_(self.count2.weight)

    def forward(self, x):
        h = F.leaky_relu(self.conv[0](x.flatten(1, 2)), LEAK)
        h = F.leaky_relu(self.conv[1](h), LEAK)
        start = self.whole(torch.cat([h.mean(2), h.amax(2)], 1))
        h = h + F.leaky_relu(self.conv[2](h) + start[:, :, None], LEAK)
        h = h + F.leaky_relu(self.conv[3](h), LEAK)
        pool = h.reshape(len(h), C, BINS, N // BINS).mean(3).flatten(1)
        return self.line(h)[:, 0], self.count2(F.leaky_relu(self.count1(pool), LEAK))


class Rows:
    """The forward recursion of core-segment.c over all templates at once."""

    def __init__(self, blank_file):
        words = [line.split() for line in open(blank_file, encoding="ascii")]
        self.plates = [int(w[0]) for w in words]
        weight = torch.tensor([float(w[1]) for w in words], dtype=torch.float64)
        blank = torch.tensor([float(w[2]) for w in words], dtype=torch.float64)
        means = [[float(v) for v in w[3:]] for w in words]
        i = torch.arange(SPAN, dtype=torch.float64) - MARGIN
        self.start = torch.where(i <= MARGIN, self.end_weight(i), 0.0).float().to(DEVICE)
        self.end = torch.where(i >= N - MARGIN, self.end_weight(i - N), 0.0).float().to(DEVICE)
        d = torch.arange(SPAN)[None, :] - torch.arange(SPAN)[:, None]
        ok = (d >= SHORTEST) & (d <= LONGEST)
        d = d.clamp(min=1).double()
        self.step = []
        for j in range(10):
            rows = []
            for k, mean in zip(self.plates, means):
                if j < k:
                    sd = .25 if j in (0, k - 1) else .14
                    z = (d.log() - math.log(mean[j] * N)) / sd
                    rows.append(torch.where(ok, (-.5 * z * z).exp() / (d * sd), 0.0))
            self.step.append(torch.stack(rows).float().to(DEVICE) if rows else None)
        self.offset = (weight.log() - blank.log()).float().to(DEVICE)
        self.of = [torch.tensor([t for t, k in enumerate(self.plates) if k == c]).to(DEVICE) for c in range(4, 11)]

    @staticmethod
    def end_weight(off):
        return (-.5 * (off / 4.0) ** 2).exp() + .2 * (-.5 * (off / 11.0) ** 2).exp()

    @staticmethod
    def odds(line):
        mid = .5 * (line[:, :-1] + line[:, 1:])
        full = F.pad(mid, (MARGIN + 1, MARGIN + 1), value=-2.0)
        return full.clamp(-CLIP, CLIP).exp()

    def logs(self, odds):
        """log (sum over rows of each count / the same without evidence): [batch, 7]"""
        s = self.start.expand(len(self.plates), len(odds), SPAN)
        scale, out, first = 0.0, [None] * len(self.plates), 0
        for j in range(10):
            s = torch.bmm(s, self.step[j][-s.shape[0]:])
            while first < len(self.plates) and self.plates[first] == j + 1:
                total = (s[0] * self.end).sum(-1)
                here = scale[0] if torch.is_tensor(scale) else 0.0
                out[first] = (total + 1e-37).log() + here + self.offset[first]
                s = s[1:]
                scale = scale[1:] if torch.is_tensor(scale) else scale
                first += 1
            if first == len(self.plates):
                break
            s = s * odds
            top = s.detach().amax(-1, keepdim=True).clamp(min=1e-30)
            s = s / top
            scale = scale + top[..., 0].log()
        out = torch.stack(out, 1)
        return torch.stack([out[:, t].logsumexp(1) for t in self.of], 1)


def augment(x, t, rng):
    b = len(x)

    def rand(*shape):
        return torch.rand(*shape, device=DEVICE, generator=rng)

    def normal(*shape):
        return torch.randn(*shape, device=DEVICE, generator=rng)

    x = x.float() / 127.0
    x = torch.where((rand(b, 1, 1, 1) < .5), x.flip(2), x)
    sign = torch.where(rand(b, 3) < torch.tensor([.25, .5, .5], device=DEVICE), -1.0, 1.0)
    x = x * sign[:, :, None, None]
    x = torch.where(rand(b, 1, 1, 1) < .3, x[:, [0, 2, 1]], x)
    stretch, shift = 1 + .02 * normal(b), .012 * normal(b)
    at = (((torch.arange(N, device=DEVICE) + .5) / N)[None] / stretch[:, None] + shift[:, None]) * N - .5
    at = at.clamp(0, N - 1)
    lo = at.long().clamp(max=N - 2)
    f = (at - lo)[:, None, None]
    lo = lo[:, None, None].expand(b, 3, LANES, N)
    x = x.gather(3, lo) * (1 - f) + x.gather(3, lo + 1) * f
    pos = t[:, 2:]
    pos = torch.where(pos > -1, (pos - shift[:, None]) * stretch[:, None], pos)
    x = x * (.25 * normal(b, 3, 1, 1)).exp()
    x = x + .25 * rand(b, 1, 1, 1) ** 3 * normal(b, 3, LANES, N)
    x = torch.where(rand(b, 1, LANES, 1) < .07, torch.zeros_like(x), x)
    grey = (rand(b, 1, 1, 1) < .1) & (torch.arange(3, device=DEVICE)[None, :, None, None] > 0)
    x = torch.where(grey, torch.zeros_like(x), x)
    return x.clamp(-1.2, 1.2), pos


def line_target(pos):
    grid = torch.arange(N, device=DEVICE) + .5
    z = (grid[None, None] - pos[:, :, None] * N) / 1.3
    y = (-.5 * z * z).exp() * ((pos > 0) & (pos < 1))[:, :, None]
    return y.amax(1)


def losses(net, rows, x, pos, t, prior):
    k = index_of(t)
    line, head = net(x)
    odds = rows.odds(line)
    node = torch.arange(SPAN, device=DEVICE) - MARGIN
    near = ((node[None, None] - pos[:, :, None] * N).abs() <= NEAR) & (pos > -1)[:, :, None]
    both = rows.logs(torch.cat([odds, odds * near.any(1)]))
    every, true = both[: len(x)], both[len(x):]
    logs = torch.cat([torch.zeros_like(every[:, :1]), every.clamp(min=-60)], 1)
    mixed = net.mix[0] * logs + net.mix[1] * head + prior
    seen = k > 0
    own = (k - 1).clamp(min=0)[:, None]
    places = (every.gather(1, own) - true.gather(1, own))[:, 0]
    places = torch.where(seen & (places < 50), places, torch.zeros_like(places)).mean()
    alone = F.binary_cross_entropy_with_logits(line, line_target(pos), reduction="none").sum(1).mean()
    return (F.cross_entropy(mixed, k), F.cross_entropy(head + prior, k), F.cross_entropy(logs + prior, k),
            places, alone, (mixed.argmax(1) == k).float().mean(), ((logs + prior).argmax(1) == k).float().mean())


def train(name, seed, minutes, blank, files):
    torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
    torch.manual_seed(seed)
    rng = torch.Generator(device=DEVICE)
    rng.manual_seed(seed)
    begun = time.time()
    x, t = load(files)
    rows, net = Rows(blank), Net().to(DEVICE)
    if os.path.exists(name): # goes on
        net.load_state_dict(read(name).state_dict())
        net.mix.data.fill_(.5)
    n = torch.bincount(index_of(t), minlength=COUNTS).float() + 1
    prior = (n / n.sum()).log()
    slow = {key: v.clone() for key, v in net.state_dict().items()}
    adam = torch.optim.AdamW(net.parameters(), lr=2.5e-3, weight_decay=1e-2)
    start, step, said, mean = time.time(), 0, 0.0, np.zeros(7)
    print(f"{len(x)} strips on {DEVICE}, read in {start - begun:.0f} s", flush=True)
    while True:
        done = (time.time() - start) / (60 * minutes)
        if done >= 1.0:
            break
        rate = 3e-3 * min(1, (step + 1) / 300) * (.01 + .99 * .5 * (1 + math.cos(math.pi * done)))
        adam.param_groups[0]["lr"] = rate
        pick = torch.randint(len(x), (BATCH,), device=DEVICE, generator=rng)
        xb, pos = augment(x[pick], t[pick], rng)
        part = losses(net, rows, xb, pos, t[pick], prior)
        loss = part[0] + .5 * part[1] + .5 * part[2] + .15 * part[3] + .02 * part[4]
        adam.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 3.0)
        adam.step()
        step += 1
        keep = min(.998, step / (step + 50))
        with torch.no_grad():
            for key, v in net.state_dict().items():
                slow[key].lerp_(v, 1 - keep)
        if step % 20 == 0:
            now = np.array([float(p.detach()) for p in part])
            mean = now if step == 20 else .9 * mean + .1 * now
        if time.time() - said > 20:
            said = time.time()
            said_parts = "joint %.3f head %.3f rows %.3f places %.3f lines %.2f right %.3f by rows %.3f" % tuple(mean)
            print(f"{100 * done:.0f} %, step {step} ({step * BATCH / len(x):.1f} rounds): {said_parts}, mix "
                  f"{net.mix[0].item():.2f} {net.mix[1].item():.2f}", flush=True)
    np.savez(name, **{key: v.cpu().numpy() for key, v in slow.items()})


def read(name):
    net = Net()
    net.load_state_dict({key: torch.from_numpy(v) for key, v in np.load(name).items()})
    return net.to(DEVICE).eval()


def as_shipped(net):
    """The weights as the table rounds them."""
    with torch.no_grad():
        for m in [*net.conv, net.whole, net.count1, net.count2]:
            flat = m.weight.reshape(len(m.weight), -1)
            scale = flat.abs().amax(1, keepdim=True) / 127 + 1e-12
            m.weight.copy_(((flat / scale).round() * scale).reshape(m.weight.shape))
    return net


def answer(nets, x):
    """Mean over networks and over both readings."""
    line = head = 0
    for net in nets:
        for v in (x, x.flip(2)):
            a, b = net(v)
            line, head = line + a / (2 * len(nets)), head + b / (2 * len(nets))
    return line, head


@torch.no_grad()
def score(names, blank, files):
    nets, rows = [as_shipped(read(n)) for n in names], Rows(blank)
    mix = sum(n.mix for n in nets) / len(nets)
    prior = torch.tensor(PRIOR, device=DEVICE).log()
    for name in files:
        x, t = load([name])
        k, got = index_of(t), []
        for i in range(0, len(x), 256):
            line, head = answer(nets, x[i: i + 256].float() / 127)
            logs = rows.logs(rows.odds(line)).clamp(min=-60)
            logs = torch.cat([torch.zeros_like(logs[:, :1]), logs], 1)
            mixed = mix[0] * logs + mix[1] * head + prior
            got.append(torch.stack([mixed.argmax(1), (logs + prior).argmax(1), (head + prior).argmax(1),
                                    (mixed.softmax(1).amax(1) * 1000).long()], 1))
        got = torch.cat(got)
        for lv in range(0, 6):
            m = (t[:, 0] == lv) & (k > 0) if lv else k == 0
            right = [(got[m, c] == k[m]).float().mean().item() for c in range(3)]
            sure = m & (got[:, 3] >= 800)
            print(f"{name} level {lv or 'none'} n {int(m.sum())}: mixed %.3f rows %.3f head %.3f" % tuple(right),
                  f"sure {sure.sum() / m.sum():.2f} of them {(got[sure, 0] == k[sure]).float().mean():.3f}", flush=True)


def packed(values, form):
    out, row = [], ""
    for v in values:
        word = form(v) + ","
        if len(row) + len(word) > 100:
            out.append(row)
            row = ""
        row += word
    return "\n".join(out + [row])


def real(v):
    s = f"{float(v):.7g}"
    return (s if "." in s or "e" in s else s + ".0") + "f"


def whole_numbers(f, name, weight):
    flat = weight.reshape(len(weight), -1)
    scale = flat.abs().amax(1, keepdim=True) / 127 + 1e-12
    q = (flat / scale).round().int()
    f.write(f"\nstatic const signed char {name}[{q.numel()}] = {{\n{packed(q.flatten().tolist(), str)}\n}};\n")
    reals(f, name + "_scale", scale)


def reals(f, name, values):
    values = values.flatten().tolist()
    f.write(f"static const float {name}[{len(values)}] = {{\n{packed(values, real)}\n}};\n")


HEAD = """/* SPDX-License-Identifier: GPL-3.0-or-later */
/* %s -- generated by tests/imaging/fit/fit.py; do not edit. %s
 * clang-format off */
#pragma once
"""


@torch.no_grad()
def table(names, header, reference):
    nets = [read(n).cpu() for n in names]
    with open(header, "w", encoding="ascii") as f:
        f.write(HEAD % ("core-segment-net-table.h", "Weights fitted on drawn\n * pictures: whole numbers times "
                        "the scale of their row."))
        f.write(f"\n#define SEGMENT_NETS {len(nets)}\n#define SEGMENT_NET_CHANNELS {C}\n"
                f"#define SEGMENT_NET_HIDDEN {HIDDEN}\n")
        for n, net in enumerate(nets):
            for i, conv in enumerate(net.conv):
                whole_numbers(f, f"segment_net{n}_w{i + 1}", conv.weight)
                reals(f, f"segment_net{n}_b{i + 1}", conv.bias)
            whole_numbers(f, f"segment_net{n}_whole", net.whole.weight)
            reals(f, f"segment_net{n}_line", torch.cat([net.line.weight.flatten(), net.line.bias]))
            whole_numbers(f, f"segment_net{n}_count1", net.count1.weight)
            reals(f, f"segment_net{n}_count1_b", net.count1.bias)
            whole_numbers(f, f"segment_net{n}_count2", net.count2.weight)
            reals(f, f"segment_net{n}_count2_b", net.count2.bias)
    nets = [as_shipped(n).double() for n in nets]
    row = torch.arange(33, dtype=torch.float64)[:, None]
    at = torch.arange(N, dtype=torch.float64)[None]
    with open(reference, "w", encoding="ascii") as f:
        f.write(HEAD % ("net-reference.h", "What the networks answer\n * in double precision, by torch, to "
                        "sin (.11 (v + 1) at + .7 row) + .3 sin (.9 row at / (v + 2))."))
        f.write("\nstatic const struct\n{\n  double count_log[8], line[32]; /* every eighth sample */\n"
                "} net_reference[] = {\n")
        for v in range(3):
            x = (.11 * (v + 1) * at + .7 * row).sin() + .3 * (.9 * row * at / (v + 2)).sin()
            line, head = answer(nets, x.reshape(1, 3, LANES, N))
            f.write("  { {\n%s },\n{\n%s } },\n" % (packed(head[0].tolist(), lambda v: f"{v:.6f}"),
                                                    packed(line[0, ::8].tolist(), lambda v: f"{v:.6f}")))
        f.write("};\n")


def main():
    verb, *rest = sys.argv[1:]
    if verb == "train":
        train(rest[0], int(rest[1]), float(rest[2]), rest[3], rest[4:])
        return
    at = rest.index("--")
    if verb == "score":
        score(rest[:at], rest[at + 1], rest[at + 2:])
    elif verb == "table":
        table(rest[:at], rest[at + 1], rest[at + 2])
    else:
        sys.exit(__doc__)


if __name__ == "__main__":
    main()
