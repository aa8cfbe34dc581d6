/* SPDX-License-Identifier: GPL-3.0-or-later
 * practice.h - two figures that limits, layout, ties and mending share.
 */
#pragma once
#include <glib.h>

/* A width that a rule makes is so many times the limit that it must keep, and a caution speaks so
 * much earlier than its stop: what is a little under when it is cut is still over the limit. Common
 * practice, no source. */
#define HF_OVER_LIMIT      1.25
#define HF_OVER_LIMIT_TEXT G_STRINGIFY(HF_OVER_LIMIT)

/* mm. Widths are computed from chords within 0.005 mm of the true curve on either side: a width
 * less than this under its limit counts as kept. The same figure serves the other units. */
#define HF_SLACK 0.01
