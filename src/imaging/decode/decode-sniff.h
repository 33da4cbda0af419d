/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-sniff.h — what kind of picture a file is, by its first bytes alone. */
#pragma once

#include "imaging/decode/decode-wire.h"

DecodeFormat decode_sniff (const guint8 *data, gsize size);
