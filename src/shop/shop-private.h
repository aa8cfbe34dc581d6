/* SPDX-License-Identifier: GPL-3.0-or-later
 * shop-private.h - the schema table of a shop file.
 */
#pragma once
#include "recipe/table.h"

extern const HfTable hf_table_shop;
