/* SPDX-License-Identifier: GPL-3.0-or-later
 * handles-private.h - the points of a sign that one drags, each with the one value of the recipe
 * that it sets.
 */
#pragma once
#include "base/json.h"
#include "out/out.h"

/** hf_handles_write: "handles": [{entry, path, kind, at, centre, unit, value}]; @text: the recipe
 *  that was run, to know which fields it has and in which unit each was typed. */
void hf_handles_write(HfJson *json, const HfSheetful *what, const char *text, gsize length);
