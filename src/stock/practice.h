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

/* mm. A width less than this under its limit counts as kept: what is drawn to the limit may come
 * out a little under it by rounding. The error of flattening, as much again, never counts for the
 * sign (hold/true-width.c). The same figure serves the other units. */
#define HF_SLACK 0.01
