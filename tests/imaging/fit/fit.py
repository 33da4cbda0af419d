#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""fit.py -- fits the networks of core-segment-net.c on drawn strips.

    fit.py train OUT.npz SEED MINUTES BLANK FOLDER [KINDS [START.npz [HIGH LOW]]]
    fit.py score IN.npz... -- BLANK STRIPS...          (count right, by kind and level)
    fit.py table IN.npz... -- HEADER.h REFERENCE.h     (weights; what they must answer)

Needs torch; a CUDA device where there is one. FOLDER holds *.bin of draw-strips, kind fit; files that
appear while it trains are read too. KINDS such as 0,1 leaves the other ways of drawing out; START goes
on from there; HIGH and LOW are the rates of learning at first and at last. BLANK is what `calibrate blank` prints: the templates of core-segment.c, and their sums
without evidence. One network learns from everything at once: the posterior over counts as
core-segment.c makes it (recursion over plate lengths and count head, mixed), the places of the
boundaries given the true count, each line by itself, and both parts alone. Lanes are mirrored, strips
stretched, shifted, bowed and slanted a little, noise added, lanes and patches dropped, the sign of
light and colour flipped, so that it learns sutures and not how they were drawn. The recipe of the
pictures is recipe.c.
"""
import glob
import math
import os
import sys
import time

import numpy as np
import torch
import torch.nn.functional as F

LANES, N, C, TAPS, BIN, HIDDEN, COUNTS = 11, 256, 64, 9, 16, 32, 8
HALF = LANES // 2
DILATION = (2, 4, 8, 16, 8, 2)  # behind the first layer
WHOLE_OF = {1: 0, 3: 1}  # layers that see the whole strip
LEAK = 0.1
BATCH = int(os.environ.get("FIT_BATCH", 1024))
IMAGINED = int(BATCH * float(os.environ.get("FIT_IMAGINED", .3)))  # strips of each batch made by Imagine
MARGIN, SHORTEST, LONGEST, CLIP, NEAR = 20, 6, 132, 12.0, 4.0  # as core-segment.c; NEAR: samples
WIDE = N + 2 * MARGIN
SPAN = WIDE + 1
POOLED = 2 * C * (N // BIN + 2)
TRUTH = 15
RECORD = 33 * WIDE + 4 * TRUTH
MOST = 700_000  # strips
PRIOR = (.06, .03, .09, .27, .16, .27, .09, .03)
DEVICE = "cuda" if torch.cuda.is_available() else "cpu"
HALF_PRECISION = DEVICE == "cuda" and os.environ.get("FIT_HALF", "1") == "1"
KIND_NAMES = ("plain", "varied", "relief", "pen", "signal")


def load(name, kinds=None):
    raw = np.fromfile(name, np.int8)
    raw = raw[: raw.size // RECORD * RECORD].reshape(-1, RECORD)
    t = np.frombuffer(raw[:, 33 * WIDE:].tobytes(), "<f4").reshape(-1, TRUTH)
    if kinds is not None:
        keep = np.isin(t[:, 2], kinds)
        raw, t = raw[keep], t[keep]
    x = torch.from_numpy(raw[:, : 33 * WIDE].reshape(-1, 3, LANES, WIDE).copy())
    return x, torch.from_numpy(t.copy())


def index_of(t):
    k = t[:, 1].long()
    return torch.where(k == 0, k, (k - 3).clamp(1, 7))


def over(conv, x):
    """A convolution along the strip, as one of pictures one sample high: faster on a GPU."""
    w = conv.weight[:, :, None]
    return F.conv2d(x, w, None, padding=(0, conv.padding[0]), dilation=(1, conv.dilation[0]))


def whole_precision(h):
    return h.float() if h.dtype == torch.bfloat16 else h


class Net(torch.nn.Module):
    """The same sums as core_segment_net."""

    def __init__(self):
        super().__init__()

        def conv(n, apart=1):
            made = torch.nn.Conv1d(n, C, TAPS, dilation=apart, padding=4 * apart, bias=False)
            torch.nn.init.kaiming_normal_(made.weight, a=LEAK, nonlinearity="leaky_relu")
            return made

        self.alike, self.apart = conv(3 * (HALF + 1)), conv(3 * HALF)
        self.conv = torch.nn.ModuleList(conv(C, d) for d in DILATION)
        self.bias = torch.nn.Parameter(torch.zeros(1 + len(DILATION), C))
        self.whole = torch.nn.ModuleList(torch.nn.Linear(2 * C, C, bias=False) for _ in WHOLE_OF)
        self.line = torch.nn.Conv1d(C, 1, 1)
        self.count1 = torch.nn.Linear(POOLED, HIDDEN)
        self.count2 = torch.nn.Linear(HIDDEN, COUNTS + 1)
        self.mix = torch.nn.Parameter(torch.tensor([0.5, 0.5]))
        for c in self.conv:
            c.weight.data.mul_(.4)
        for w in self.whole:
            torch.nn.init.normal_(w.weight, std=0.03)
        torch.nn.init.constant_(self.line.bias, -3.0)
        torch.nn.init.zeros_(self.count2.weight)

    def forward(self, x):
        flip = x.flip(2)
        alike = (.5 * (x + flip))[:, :, :HALF + 1].flatten(1, 2)[:, :, None]
        apart = (.5 * (x - flip))[:, :, :HALF].flatten(1, 2)[:, :, None]
        base = over(self.alike, alike) + self.bias[0][:, None, None]
        by = over(self.apart, apart)
        h = .5 * (F.leaky_relu(base + by, LEAK) + F.leaky_relu(base - by, LEAK))
        for i, c in enumerate(self.conv):
            more = self.bias[i + 1][None]
            if i in WHOLE_OF:
                f = whole_precision(h[:, :, 0])
                more = more + self.whole[WHOLE_OF[i]](torch.cat([f.mean(2), f.amax(2)], 1))
            h = h + F.leaky_relu(over(c, h) + more[:, :, None, None], LEAK)
        h = whole_precision(h[:, :, 0])
        mid = h[:, :, MARGIN: MARGIN + N].reshape(len(h), C, N // BIN, BIN)
        ends = h[:, :, :MARGIN], h[:, :, MARGIN + N:]
        mean = torch.cat([ends[0].mean(2, True), mid.mean(3), ends[1].mean(2, True)], 2)
        top = torch.cat([ends[0].amax(2, True), mid.amax(3), ends[1].amax(2, True)], 2)
        pool = torch.cat([mean.flatten(1), top.flatten(1)], 1)
        return self.line(h)[:, 0], self.count2(F.leaky_relu(self.count1(pool), LEAK))


def worth(said):
    """Of the rows, beside the count head."""
    return said[:, COUNTS:].clamp(-4.0, 2.0).exp()


def joined(net_mix, rows, said, prior):
    """Log shares of the counts: rows, as much as they are worth in this picture, and count head."""
    return net_mix[0] * worth(said) * rows + net_mix[1] * said[:, :COUNTS] + prior


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
        line = torch.cat([line[:, :1], line, line[:, -1:]], 1)
        return (.5 * (line[:, :-1] + line[:, 1:])).clamp(-CLIP, CLIP).exp()

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


class Imagine:
    """Strips that were never drawn: made at random on the device, as pictures come out of the strip.

    Sutures of one random profile a picture (sums of bumps and steps in any channels), uneven, broken,
    fading, with residual arcs; false lines, patterns that repeat in each plate, plates of their own
    tone, textures of any grain, legs across, shadows, what lies beyond the ends and beside the tip,
    blur and noise. No picture is in it, so that the networks cannot learn how one was drawn.
    """

    EDGES = 19  # most plates: 18 rings of a worm

    def __init__(self):
        self.tau = torch.linspace(-.8, .8, LANES, device=DEVICE)
        self.at = torch.arange(WIDE, device=DEVICE) + .5 - MARGIN
        i, j = torch.arange(N, device=DEVICE)[:, None], torch.arange(N, device=DEVICE)[None]
        slow = (-.5 * ((i - j) / (.075 * N)).square()).exp()
        slow = slow / slow.sum(1, keepdim=True)
        ends = (torch.arange(WIDE, device=DEVICE) - MARGIN).clamp(0, N - 1)
        self.slow = slow[ends].T.contiguous()  # [N, WIDE]
        self.mark_sd = torch.tensor([.01, .01, .02, .05], device=DEVICE)
        self.outward = torch.tensor([-1., 1.], device=DEVICE)
        self.tint = {w: torch.tensor([1., w, w], device=DEVICE)[None, :, None, None] for w in (.1, .12, .2, .3, .4, .8)}
        self.colour = torch.tensor([.4, .5, .5], device=DEVICE)
        self.grey = torch.tensor([1., 0., 0.], device=DEVICE)[None, :, None, None]
        self.counts = torch.tensor([3, 12, 27, 18, 25, 12, 3.], device=DEVICE).cumsum(0) / 100

    @staticmethod
    def rand(*shape, lo=0.0, hi=1.0):
        return lo + (hi - lo) * torch.rand(*shape, device=DEVICE)

    @staticmethod
    def normal(*shape):
        return torch.randn(*shape, device=DEVICE)

    def edges(self, b):
        """Edges of the plates in samples of the marked axis, how many, and the count that is true."""
        rand, normal = self.rand, self.normal
        k = 4 + (rand(b, 1) > self.counts[None, :-1]).sum(1)
        empty = rand(b) < .1
        worm = empty & (rand(b) < .3)
        drawn = torch.where(worm, 13 + (6 * rand(b)).long().clamp(max=5), torch.where(empty, torch.ones_like(k), k))
        i = torch.arange(self.EDGES, device=DEVICE)[None]
        length = (rand(b, 1, lo=.02, hi=.17) * normal(b, self.EDGES) +
                  .2 * normal(b, 1) * (i / drawn[:, None] - .5)).exp()
        sex = rand(b)
        female, male = (sex < .4) & (k <= 7), (sex > .55) & (k >= 7)
        last, last2 = i == drawn[:, None] - 1, i == drawn[:, None] - 2
        noise = (.17 * normal(b, 3)).exp()
        length = torch.where(i == 0, length * .95 * noise[:, :1], length)
        length = torch.where(last, length * noise[:, 1:2] * torch.where(female, 1.82, torch.where(male, .71, 1.0))[:, None],
                             length)
        length = torch.where(last2 & male[:, None], length * .58 * noise[:, 2:], length)
        length = torch.where(i < drawn[:, None], length.clamp(min=.35), 0.0)
        edge = torch.cat([torch.zeros(b, 1, device=DEVICE), length.cumsum(1) / length.sum(1, keepdim=True)], 1)
        off = normal(b, 2) * self.mark_sd[(4 * rand(b, 1)).long().clamp(max=3)]
        off = off + self.outward * rand(b, 2, lo=.03, hi=.09) * (rand(b, 2) < .12)
        edge = (edge - off[:, :1]) / (1 + off[:, 1:] - off[:, :1])  # marks that are off
        inner = (torch.arange(self.EDGES + 1, device=DEVICE)[None] > 0) & \
            (torch.arange(self.EDGES + 1, device=DEVICE)[None] < drawn[:, None])
        return edge, inner, drawn, torch.where(empty, 0, k)

    def profile(self, d, b, n=1):
        """d: [b, ...] distances in samples; what a line adds there, [b, 3, ...]: largest about 1."""
        rand, normal = self.rand, self.normal
        shape = (b,) + (1,) * (d.dim() - 1)
        wide = (2.2 * (.45 * normal(*shape)).exp()).clamp(.9, 7.0)
        out = 0.0
        for m in range(3):
            gain = normal(b, 1, *shape[1:]) * (1.0 if m == 0 else 1.0 * (rand(b, 1, *shape[1:]) < .5))
            tint = torch.where(rand(b, 1, *shape[1:]) < .65, self.tint[.12].view(1, 3, *(1,) * (d.dim() - 1)),
                               self.colour.view(1, 3, *(1,) * (d.dim() - 1)))
            tint = tint * normal(b, 3, *shape[1:])
            z = (d / wide - (0 if m == 0 else 1.3 * normal(*shape))) / (.7 * (.4 * normal(*shape)).exp())
            step = rand(*shape) < .25
            v = torch.where(step, z.tanh() * (-.5 * (d / wide / 2.2).square()).exp(), (-.5 * z * z).exp())
            out = out + gain * tint * v[:, None]
        norm = out.flatten(2).abs().amax(2).amax(1)
        return out / norm.clamp(min=1e-3).view(b, 1, *shape[1:])

    def texture(self, b):
        """Noise of any grain along and across, sd about 1: [b, 3, LANES, WIDE]."""
        rand, normal = self.rand, self.normal
        x = normal(b, 3, LANES, WIDE) * self.tint[.4]
        x = torch.where(rand(b, 1, 1, 1) < .7, x[:, :1] * self.tint[.2] + .2 * x, x)
        along = (.9 * normal(b)).exp() * 2.0
        across = (.8 * normal(b)).exp() * .9
        return self.blur(x, along.clamp(.3, 14), across.clamp(.2, 6))

    def kernel(self, n, sd):
        d = torch.arange(n, device=DEVICE)
        w = (-.5 * ((d[:, None] - d[None]) / sd[:, None, None]).square()).exp()
        return w / w.square().sum(2, keepdim=True).sqrt()

    def blur(self, x, along, across):
        b = len(x)
        x = torch.bmm(x.reshape(b, 3 * LANES, WIDE), self.kernel(WIDE, along).transpose(1, 2)).reshape(x.shape)
        return torch.einsum("bml,bclx->bcmx", self.kernel(LANES, across), x)

    def soften(self, x, sd):
        w = self.kernel(WIDE, sd)
        w = w / w.sum(2, keepdim=True)
        return torch.bmm(x.reshape(len(x), 3 * LANES, WIDE), w.transpose(1, 2)).reshape(x.shape)

    def sutures(self, edge, inner, b):
        rand, normal, tau = self.rand, self.normal, self.tau
        bow = (3.0 * normal(b, 1, 1) + .8 * normal(b, self.EDGES + 1, 1)) * tau.square() * (rand(b, 1, 1) < .7)
        bow = bow + (1.2 * normal(b, 1, 1) + .6 * normal(b, self.EDGES + 1, 1)) * tau
        warp = self.blur(normal(b, 3, LANES, WIDE), torch.full((b,), 30.0, device=DEVICE),
                         (.3 * normal(b)).exp() * 1.5)[:, 0]  # uneven, the same along a short way
        d = self.at[None, None, None] - (edge * N)[:, :, None, None] - bow[..., None]  # [b, edges, lanes, wide]
        d = torch.where(inner[:, :, None, None], d, 999.0)
        gain = (rand(b, 1, lo=.1, hi=.55) * normal(b, self.EDGES + 1)).exp().clamp(min=.3)
        which = d.abs().argmin(1)
        d = d.gather(1, which[:, None])[:, 0]
        d = d + rand(b, 1, 1, hi=.9) * warp
        gain = gain.gather(1, which.flatten(1)).view_as(which)
        gain = gain * (rand(b, 1, 1, lo=-.5, hi=.5) * (tau[None, :, None] + self.at[None, None] / N - .5)).exp()
        holes = self.blur(normal(b, 3, LANES, WIDE), torch.full((b,), 9.0, device=DEVICE), (.3 * normal(b)).exp())[:, 0]
        gain = gain * (1 - rand(b, 1, 1, hi=.95) * (rand(b, 1, 1) < .35) * (holes * 3).sigmoid())
        flank = rand(b, 1, 1, lo=.3, hi=.9)
        gain = gain * torch.where((tau.abs()[None, :, None] > flank) & (rand(b, 1, 1) < .3), .25, 1.0)
        return self.profile(d, b) * gain[:, None]

    def false_lines(self, b, clutter):
        rand, normal, tau = self.rand, self.normal, self.tau
        out = 0.0
        n = 4
        for _ in range(3):
            at = rand(b, n, 1, 1, lo=-.05, hi=1.05) * N + 9 * normal(b, n, 1, 1) * tau[None, None, :, None] + \
                6 * normal(b, n, 1, 1) * tau.square()[None, None, :, None]
            across = rand(b, n, 1, 1) < .25
            mid = torch.where(across, .1, .5) * normal(b, n, 1, 1)
            reach = torch.where(across, rand(b, n, 1, 1, lo=.55, hi=1.0), rand(b, n, 1, 1, lo=.08, hi=.5))
            gain = normal(b, n, 1, 1) * torch.where(across, rand(b, n, 1, 1, lo=.2, hi=.5), 1.0)
            gain = gain * (rand(b, n, 1, 1) < (.4 * clutter)[:, None, None, None])
            gain = gain * ((reach - (tau[None, None, :, None] - mid).abs()) / .08).sigmoid()
            d = self.at[None, None, None] - at
            out = out + (self.profile(d, b) * gain[:, None]).sum(2)
        return out

    def plates(self, edge, inner, b):
        """Tones of the plates, and a pattern that repeats in each."""
        rand, normal = self.rand, self.normal
        above = (self.at[None, None] > (edge * N)[:, :, None]) & inner[:, :, None]
        plate = above.sum(1)  # [b, wide]
        tone = normal(b, 3, self.EDGES + 2).gather(2, plate[:, None].expand(-1, 3, -1))
        tone = tone * rand(b, 3, 1).square() * (rand(b, 1, 1) < .4)
        start = edge.gather(1, plate.clamp(max=self.EDGES - 1)) * N
        end = edge.gather(1, (plate + 1).clamp(max=self.EDGES)) * N
        q = ((self.at[None] - start) / (end - start).clamp(min=4.0)).clamp(-.2, 1.2)
        bump = (-.5 * ((q - rand(b, 1, lo=.15, hi=.85)) / rand(b, 1, lo=.05, hi=.3)).square()).exp()
        lane = (-.5 * ((self.tau.abs()[None] - rand(b, 1, lo=0, hi=1.2)) / rand(b, 1, lo=.12, hi=.8)).square()).exp()
        tint = normal(b, 3, 1, 1) * self.tint[.2]
        repeat = tint * (bump[:, None] * lane[:, :, None])[:, None] * (rand(b, 1, 1, 1) < .35)
        ramp = normal(b, 1) * (q - .5) * (rand(b, 1) < .35)
        return tone[:, :, None] * .6 + repeat + .8 * ramp[:, None, None] * self.tint[.1]

    def around(self, edge, drawn, b):
        """Beyond the ends and beside the tip it is no longer body; legs lie across."""
        rand, normal, tau = self.rand, self.normal, self.tau
        base = edge[:, 0] * N
        tip = edge.gather(1, drawn[:, None])[:, 0] * N
        mix = 1.2 * self.tint[.3]
        soft = rand(b, 1, 1, lo=.3, hi=2.0)
        before = ((base[:, None, None] - self.at[None, None]) / soft).sigmoid()
        narrow = rand(b, 1, 1, lo=0, hi=.25) * N * (rand(b, 1, 1) < .7)
        behind = ((self.at[None, None] - tip[:, None, None] + narrow * tau.abs()[None, :, None] ** rand(
            b, 1, 1, lo=1.5, hi=5.0)) / soft).sigmoid()
        ground = normal(b, 3, 1, 1) * mix * 1.5 + self.texture(b) * rand(b, 1, 1, 1, hi=1.5)
        thorax = normal(b, 3, 1, 1) * mix * .6 * (rand(b, 1, 1, 1) < .7) + self.texture(b) * rand(b, 1, 1, 1, hi=.8)
        legs = 0.0
        for _ in range(2):
            centre = rand(b, 1, 1) * N + 60 * normal(b, 1, 1) * tau[None, :, None]
            wide = rand(b, 1, 1, lo=1.5, hi=9.0)
            on = ((wide - (self.at[None, None] - centre).abs()) / .6).sigmoid() * (rand(b, 1, 1) < .12)
            on = on * ((tau[None, :, None] * torch.where(rand(b, 1, 1) < .5, -1., 1.) - rand(b, 1, 1, lo=-1.2, hi=.6)) * 12).sigmoid()
            legs = legs + on[:, None] * normal(b, 3, 1, 1) * mix * 2
        shine = ((rand(b, 1, 1, lo=2, hi=30) - (self.at[None, None] - rand(b, 1, 1) * N).abs()) / 2).sigmoid() * \
            ((.35 - (tau[None, :, None] - rand(b, 1, 1, lo=-.8, hi=.8)).abs()) * 9).sigmoid() * (rand(b, 1, 1) < .15)
        return before, behind, ground, thorax, legs, shine

    def prepared(self, x):
        """As img-strip-flat.c and img_find_input leave a strip."""
        x = x - torch.matmul(x[..., MARGIN: MARGIN + N], self.slow)
        for scale in (4.0, None):
            inner = x[..., MARGIN: MARGIN + N]
            mid = inner.median(3, keepdim=True)[0]
            sd = 1.4826 * (inner - mid).abs().median(3, keepdim=True)[0].clamp(min=1e-4)
            x = torch.maximum(torch.minimum(x, scale * sd), -scale * sd) if scale else (x / sd / 3).tanh()
        return x

    @torch.no_grad()
    def __call__(self, b):
        rand, normal = self.rand, self.normal
        edge, inner, drawn, k = self.edges(b)
        hard = rand(b)
        strength = (1.1 - 1.5 * hard + .35 * normal(b)).exp()[:, None, None, None]
        clutter = .3 + .9 * hard
        lines = self.sutures(edge, inner, b)
        x = strength * lines + .8 * strength * self.false_lines(b, clutter)
        x = x + rand(b, 1, 1, 1) * strength * self.plates(edge, inner, b)
        for _ in range(2):
            x = x + .35 * rand(b, 1, 1, 1) * clutter[:, None, None, None] * self.texture(b)
        before, behind, ground, thorax, legs, shine = self.around(edge, drawn, b)
        x = x * (1 - before[:, None]) + thorax * before[:, None]
        x = x * (1 - behind[:, None]) + ground * behind[:, None]
        x = torch.where(legs != 0, x * (1 - legs.abs().clamp(max=1)) + legs, x)
        x = x * (1 - shine[:, None]) + 1.5 * shine[:, None] * self.grey
        x = self.soften(x, (.2 + 3.2 * rand(b) * hard + .8 * rand(b)))
        x = x + (.02 + .35 * rand(b, 1, 1, 1).square() * hard[:, None, None, None]) * normal(b, 3, LANES, WIDE) * \
            self.tint[.8]
        t = torch.full((b, TRUTH), -9.0, device=DEVICE)
        t[:, 0], t[:, 1], t[:, 2] = 1 + 5 * hard, k.float(), 9.0
        within = inner[:, 1:TRUTH - 2] & (k > 0)[:, None]
        t[:, 3:] = torch.where(within, edge[:, 1:TRUTH - 2], -9.0)
        return self.prepared(x), t


class Augment:
    def __init__(self):
        self.flips = torch.tensor([.25, .5, .5], device=DEVICE)
        self.tau = torch.linspace(-.8, .8, LANES, device=DEVICE)[None, :, None]
        self.at = ((torch.arange(WIDE, device=DEVICE) + .5 - MARGIN) / N)[None, None]
        self.along = torch.linspace(0, 1, WIDE, device=DEVICE)[None, None, None]
        self.across = torch.linspace(0, 1, LANES, device=DEVICE)[None, None, :, None]
        self.colour = torch.tensor([False, True, True], device=DEVICE)[None, :, None, None]

    def __call__(self, x, t):
        b = len(x)

        def rand(*shape):
            return torch.rand(*shape, device=DEVICE)

        def normal(*shape):
            return torch.randn(*shape, device=DEVICE)

        x = torch.where(rand(b, 1, 1, 1) < .5, x.flip(2), x)
        x = x * torch.where(rand(b, 3) < self.flips, -1.0, 1.0)[:, :, None, None]
        x = torch.where(rand(b, 1, 1, 1) < .3, torch.stack([x[:, 0], x[:, 2], x[:, 1]], 1), x)
        stretch, shift = 1 + .02 * normal(b), .012 * normal(b)
        bow = (.006 * normal(b, 1, 1) * self.tau * self.tau + .004 * normal(b, 1, 1) * self.tau)
        at = ((self.at / stretch[:, None, None] + shift[:, None, None] + bow) * N - .5 + MARGIN).clamp(0, WIDE - 1)
        lo = at.long().clamp(max=WIDE - 2)
        f = (at - lo)[:, None]
        lo = lo[:, None].expand(b, 3, LANES, WIDE)
        x = x.gather(3, lo) * (1 - f) + x.gather(3, lo + 1) * f
        pos = t[:, 3:]
        pos = torch.where(pos > -1, (pos - shift[:, None]) * stretch[:, None], pos)
        soft = torch.cat([x[..., :1], x, x[..., -1:]], 3)
        soft = .25 * soft[..., :-2] + .5 * x + .25 * soft[..., 2:]
        x = x + (rand(b, 1, 1, 1) - .35) * (rand(b, 1, 1, 1) < .4) * (soft - x)  # softer or sharper
        faint = .25 * rand(b, 1, 1, 1) * (rand(b, 1, 1, 1) < .25)
        x = x + faint * x.roll(1, 0).flip(3)  # a trace of another picture's lines
        x = x * (.25 * normal(b, 3, 1, 1)).exp()
        x = x + .25 * rand(b, 1, 1, 1) ** 3 * normal(b, 3, LANES, WIDE)
        x = torch.where(rand(b, 1, LANES, 1) < .07, torch.zeros_like(x), x)
        hole = ((self.along - rand(b, 1, 1, 1)).abs() < .06 * rand(b, 1, 1, 1)) & \
            ((self.across - rand(b, 1, 1, 1)).abs() < .4 * rand(b, 1, 1, 1)) & (rand(b, 1, 1, 1) < .3)
        x = torch.where(hole, normal(b, 3, 1, 1).expand_as(x), x)
        x = torch.where((rand(b, 1, 1, 1) < .1) & self.colour, torch.zeros_like(x), x)
        return x.clamp(-1.2, 1.2), pos


def line_target(pos):
    grid = torch.arange(WIDE, device=DEVICE) + .5 - MARGIN
    z = (grid[None, None] - pos[:, :, None] * N) / 1.3
    y = (-.5 * z * z).exp() * (pos > -1)[:, :, None]
    return y.amax(1)


def losses(net, rows, x, pos, t, prior):
    k = index_of(t)
    if HALF_PRECISION:
        with torch.autocast(DEVICE, torch.bfloat16):
            line, said = net(x)
        line, said = line.float(), said.float()
    else:
        line, said = net(x)
    head = said[:, :COUNTS]
    odds = rows.odds(line)
    node = torch.arange(SPAN, device=DEVICE) - MARGIN
    near = ((node[None, None] - pos[:, :, None] * N).abs() <= NEAR) & (pos > -1)[:, :, None]
    both = rows.logs(torch.cat([odds, odds * near.any(1)]))
    every, true = both[: len(x)], both[len(x):]
    logs = torch.cat([torch.zeros_like(every[:, :1]), every.clamp(min=-60)], 1)
    mixed = joined(net.mix, logs, said, prior)
    own = (k - 1).clamp(min=0)[:, None]
    places = (every.gather(1, own) - true.gather(1, own))[:, 0]
    places = torch.where((k > 0) & (places < 50), places, torch.zeros_like(places)).mean()
    alone = F.binary_cross_entropy_with_logits(line, line_target(pos), reduction="none").sum(1).mean()
    drawn = slice(0, BATCH - IMAGINED)  # figures to look at: of pictures alone
    return torch.stack([F.cross_entropy(mixed, k), F.cross_entropy(head + prior, k),
                        F.cross_entropy(logs + prior, k), places, alone,
                        (mixed.argmax(1) == k)[drawn].float().mean(),
                        ((logs + prior).argmax(1) == k)[drawn].float().mean()])


class Pictures:
    """Strips on the device; more are read as they appear."""

    def __init__(self, folder, kinds):
        most = MOST if DEVICE == "cuda" else 20_000
        self.folder, self.kinds, self.seen, self.n = folder, kinds, set(), 0
        self.x = torch.empty((most, 3, LANES, WIDE), dtype=torch.int8, device=DEVICE)
        self.t = torch.empty((most, TRUTH), device=DEVICE)
        self.size = torch.zeros((), device=DEVICE)

    def read(self, limit=1e9):
        begun = time.time()
        for name in sorted(set(glob.glob(self.folder + "/*.bin")) - self.seen):
            x, t = load(name, self.kinds)
            m = min(len(x), len(self.x) - self.n)
            self.x[self.n: self.n + m] = x[:m].to(DEVICE)
            self.t[self.n: self.n + m] = t[:m].to(DEVICE)
            self.n += m
            self.seen.add(name)
            if time.time() - begun > limit:
                break
        self.size.fill_(self.n)

    def batch(self):
        pick = (torch.rand(BATCH - IMAGINED, device=DEVICE) * self.size).long()
        return self.x[pick], self.t[pick]


class Learner:
    def __init__(self, pictures, blank, start):
        self.pictures, self.rows, self.augment = pictures, Rows(blank), Augment()
        self.imagine = Imagine()
        self.net = read(start) if start else Net().to(DEVICE)
        self.net.train()
        n = torch.bincount(index_of(pictures.t[: pictures.n]), minlength=COUNTS).float() + 1
        self.prior = (n / n.sum()).log()
        self.rate = torch.tensor(1e-4, device=DEVICE) if DEVICE == "cuda" else 1e-4
        self.adam = torch.optim.AdamW(self.net.parameters(), lr=self.rate, weight_decay=2e-2,
                                      capturable=DEVICE == "cuda")
        self.weights = list(self.net.parameters())
        self.slow = [w.detach().clone() for w in self.weights]
        self.part = torch.zeros(7, device=DEVICE)
        self.graph = None

    def step(self):
        x, t = self.pictures.batch()
        if IMAGINED:
            more, more_t = self.imagine(IMAGINED)
            x = torch.cat([x.float() / 127.0, more])
            t = torch.cat([t, more_t])
        else:
            x = x.float() / 127.0
        xb, pos = self.augment(x, t)
        part = losses(self.net, self.rows, xb, pos, t, self.prior)
        self.adam.zero_grad(set_to_none=False)
        (part[0] + .5 * part[1] + .5 * part[2] + .15 * part[3] + .02 * part[4]).backward()
        for w in self.weights:
            if w.grad is not None:
                w.grad.nan_to_num_(0.0, 0.0, 0.0)
        torch.nn.utils.clip_grad_norm_(self.weights, 3.0)
        self.adam.step()
        self.part.lerp_(part.detach(), .02)

    def prepare(self):
        """One recording of the step, played again and again: launching costs more than computing."""
        if DEVICE != "cuda":
            return
        side = torch.cuda.Stream()
        side.wait_stream(torch.cuda.current_stream())
        with torch.cuda.stream(side):
            for _ in range(4):
                self.step()
        torch.cuda.current_stream().wait_stream(side)
        try:
            graph = torch.cuda.CUDAGraph()
            with torch.cuda.graph(graph):
                self.step()
            self.graph = graph
        except RuntimeError as why:
            print("no recording:", why, flush=True)

    def go(self, rate):
        if DEVICE == "cuda":
            self.rate.fill_(rate)
        else:
            self.adam.param_groups[0]["lr"] = rate
        if self.graph is not None:
            self.graph.replay()
        else:
            self.step()

    def average(self, keep):
        with torch.no_grad():
            for s, w in zip(self.slow, self.weights):
                s.lerp_(w.detach(), 1 - keep)

    def save(self, name):
        names = [n for n, _ in self.net.named_parameters()]
        np.savez(name, **{n: s.cpu().numpy() for n, s in zip(names, self.slow)})


def train(name, seed, minutes, blank, folder, kinds=None, start=None, high=3e-3, low=1e-5):
    high, low = float(high), float(low)
    torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
    torch.backends.cudnn.benchmark = True
    torch.manual_seed(seed)
    pictures = Pictures(folder, None if kinds in (None, "all") else [float(k) for k in kinds.split(",")])
    pictures.read()
    learner = Learner(pictures, blank, start)
    learner.prepare()
    begun, step, said, saved = time.time(), 0, 0.0, time.time()
    print(f"{name}: {pictures.n} strips on {DEVICE}", flush=True)
    while (done := (time.time() - begun) / (60 * minutes)) < 1.0:
        learner.go(min(1, (step + 1) / 400) * (low + (high - low) * .5 * (1 + math.cos(math.pi * done))))
        step += 1
        if step % 10 == 0:
            learner.average(min(.98, step / (step + 200)))
        if step % 100 == 0 and DEVICE == "cuda":
            torch.cuda.synchronize()
        if time.time() - said > 20:
            said = time.time()
            if done < .85:
                pictures.read(4.0)
            words = "joint %.3f head %.3f rows %.3f places %.3f lines %.2f right %.3f by rows %.3f" % tuple(
                learner.part.tolist())
            print(f"{name} {100 * done:.0f} %, {pictures.n} strips, step {step} "
                  f"({step * BATCH / max(1, pictures.n):.1f} rounds): {words}, mix "
                  f"{learner.net.mix[0].item():.2f} {learner.net.mix[1].item():.2f}", flush=True)
        if time.time() - saved > 60:
            saved = time.time()
            learner.save(name)
    learner.save(name)


def read(name):
    net = Net()
    net.load_state_dict({key: torch.from_numpy(v) for key, v in np.load(name).items()})
    return net.to(DEVICE).eval()


def as_shipped(net):
    """The weights as the table rounds them."""
    with torch.no_grad():
        for m in [net.alike, net.apart, *net.conv, *net.whole, net.count1, net.count2]:
            flat = m.weight.reshape(len(m.weight), -1)
            scale = flat.abs().amax(1, keepdim=True) / 127 + 1e-12
            m.weight.copy_(((flat / scale).round() * scale).reshape(m.weight.shape))
    return net


def answer(nets, x):
    """Means over networks: lines, counts, and what the rows are worth beside them."""
    line = head = rows = 0
    for net in nets:
        a, said = net(x)
        line, head, rows = line + a, head + net.mix[1] * said[:, :COUNTS], rows + net.mix[0] * worth(said)
    return line / len(nets), head / len(nets), rows / len(nets)


@torch.no_grad()
def score(names, blank, files):
    nets, rows = [as_shipped(read(n)) for n in names], Rows(blank)
    prior = torch.tensor(PRIOR, device=DEVICE).log()
    for name in files:
        x, t = (v.to(DEVICE) for v in load(name))
        k, got = index_of(t), []
        for i in range(0, len(x), 256):
            line, head, rows_worth = answer(nets, x[i: i + 256].float() / 127)
            logs = rows.logs(rows.odds(line)).clamp(min=-60)
            logs = torch.cat([torch.zeros_like(logs[:, :1]), logs], 1)
            mixed = rows_worth * logs + head + prior
            got.append(torch.stack([mixed.argmax(1), (logs + prior).argmax(1), (head + prior).argmax(1),
                                    (mixed.softmax(1).amax(1) * 1000).long()], 1))
        got = torch.cat(got)
        out = []
        for lv in range(0, 6):
            m = (t[:, 0] == lv) & (k > 0) if lv else k == 0
            out.append("%.3f (%.3f %.3f)" % tuple((got[m, c] == k[m]).float().mean().item() for c in range(3)))
        sure = (got[:, 3] >= 800) & (k > 0)
        print(f"{'+'.join(names)} on {name}, {len(x)} strips: none, levels 1-5 joint (rows, head): {'  '.join(out)}; "
              f"sure {(sure.sum() / (k > 0).sum()):.2f}, right {(got[sure, 0] == k[sure]).float().mean():.3f}",
              flush=True)


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
                f"#define SEGMENT_NET_CONVS {len(DILATION)}\n#define SEGMENT_NET_HIDDEN {HIDDEN}\n")
        for n, net in enumerate(nets):
            whole_numbers(f, f"segment_net{n}_alike", net.alike.weight)
            reals(f, f"segment_net{n}_alike_b", net.bias[0])
            whole_numbers(f, f"segment_net{n}_apart", net.apart.weight)
            for i, conv in enumerate(net.conv):
                whole_numbers(f, f"segment_net{n}_w{i + 1}", conv.weight)
                reals(f, f"segment_net{n}_b{i + 1}", net.bias[i + 1])
            for i, whole in enumerate(net.whole):
                whole_numbers(f, f"segment_net{n}_whole{i + 1}", whole.weight)
            reals(f, f"segment_net{n}_mix", net.mix)
            reals(f, f"segment_net{n}_line", torch.cat([net.line.weight.flatten(), net.line.bias]))
            whole_numbers(f, f"segment_net{n}_count1", net.count1.weight)
            reals(f, f"segment_net{n}_count1_b", net.count1.bias)
            whole_numbers(f, f"segment_net{n}_count2", net.count2.weight)
            reals(f, f"segment_net{n}_count2_b", net.count2.bias)
    nets = [as_shipped(n).double() for n in nets]
    row = torch.arange(33, dtype=torch.float64)[:, None]
    at = torch.arange(WIDE, dtype=torch.float64)[None]
    with open(reference, "w", encoding="ascii") as f:
        f.write(HEAD % ("net-reference.h", "What the networks answer\n * in double precision, by torch, to "
                        "sin (.11 (v + 1) at + .7 row) + .3 sin (.9 row at / (v + 2))."))
        f.write("\nstatic const struct\n{\n  double count_log[8], rows_worth, line[37]; /* every eighth sample, from the first before the base */\n"
                "} net_reference[] = {\n")
        for v in range(3):
            x = (.11 * (v + 1) * at + .7 * row).sin() + .3 * (.9 * row * at / (v + 2)).sin()
            line, head, rows_worth = answer(nets, x.reshape(1, 3, LANES, WIDE))
            f.write("  { {\n%s },\n%.6f,\n{\n%s } },\n" % (
                packed(head[0].tolist(), lambda v: f"{v:.6f}"), rows_worth.item(),
                packed(line[0, ::8].tolist(), lambda v: f"{v:.6f}")))
        f.write("};\n")


def main():
    verb, *rest = sys.argv[1:]
    if verb == "train":
        train(rest[0], int(rest[1]), float(rest[2]), *rest[3:])
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
