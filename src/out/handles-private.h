/* SPDX-License-Identifier: GPL-3.0-or-later
 * handles-private.h - the points of a sign that one drags, each with the one value of the recipe
 * that it sets.
 */
#pragma once
#include "base/json.h"
#include "out/out.h"

/** hf_handles_write: "handles": [{entry, path, kind, name, at, centre, unit, value}]. Only what the
 *  recipe says itself has a handle, in the unit in which it says it. */
void hf_handles_write(HfJson *json, const HfSign *what);
