/* SPDX-License-Identifier: GPL-3.0-or-later
 * coupon-seen.c - a coupon as the page shows it: where each place lies, what is marked there, and
 * what was said to have come out of it.
 */
#include "base/json.h"
#include "run/couponed-private.h"
#include "run/couponed.h"
#include <string.h>

static void
write_place(HfJson *json, const HfCoupon *coupon, HfCombKind kind, guint i)
{
  const HfComb *comb = &coupon->combs[kind];
  g_autofree char *figure = hf_coupon_figure(kind, comb->figure[i]);
  g_autofree char *length = hf_coupon_length(comb->figure[i]);
  hf_json_line(json, NULL, '{');
  hf_json_text(json, "figure", figure);
  hf_json_text(json, "length", length);
  hf_json_number(json, "x", comb->at[i].x, 3);
  hf_json_number(json, "y", comb->at[i].y, 3);
  hf_json_number(json, "reach", hf_comb_reach(coupon, kind, i), 3);
  hf_json_close(json);
}

/* Only rows that teach a limit; those for the eye are not asked about. */
static void
write_comb(HfJson *json, const HfCoupon *coupon, HfCombKind kind)
{
  const HfComb *comb = &coupon->combs[kind];
  if (kind == HF_COMB_LETTERS || kind == HF_COMB_POINTS || comb->n == 0)
    return;
  hf_json_open(json, NULL, '{');
  g_autofree char *letter = g_strdup_printf("%c", hf_comb_letter(kind));
  hf_json_text(json, "letter", letter);
  hf_json_text(json, "key", hf_comb_key(kind));
  hf_json_text(json, "says", hf_comb_says(kind));
  hf_json_open(json, "places", '[');
  for (guint i = 0; i < comb->n; i++)
    write_place(json, coupon, kind, i);
  hf_json_close(json);
  hf_json_close(json);
}

/* In the unit that the coupon is marked in. */
static HfUnits
units_of(const char *text, gsize length)
{
  g_autoptr(HfRecipe) recipe = hf_recipe_read(text, length, NULL, NULL);
  return recipe != NULL ? recipe->units : HF_UNITS_MM;
}

GBytes *
hf_coupon_seen(const char *text, gsize length)
{
  g_autoptr(HfCoupon) coupon = hf_coupon_of_recipe(text, length);
  if (coupon == NULL)
    return g_bytes_new_static("null\n", 5);
  g_auto(HfUnitsScope) scope = hf_units_scope(units_of(text, length));
  g_autoptr(HfJson) json = hf_json_new();
  g_autofree char *window = hf_coupon_length(coupon->window);
  hf_json_open(json, NULL, '{');
  hf_json_text(json, "window", window);
  hf_json_open(json, "combs", '[');
  for (guint kind = 0; kind < HF_N_COMBS; kind++)
    write_comb(json, coupon, (HfCombKind)kind);
  hf_json_close(json);
  hf_json_close(json);
  return hf_json_finish(json);
}

/* A file of results, in JSON. */
static GBytes *
results_text(const HfCoupon *coupon, const char *const *said)
{
  g_autoptr(HfJson) json = hf_json_new();
  g_autofree char *thickness = hf_coupon_length(coupon->thickness);
  g_autofree char *kerf = hf_coupon_length(coupon->kerf);
  g_autofree char *window = hf_coupon_length(coupon->window);
  hf_json_open(json, NULL, '{');
  hf_json_text(json, "holdfast", "1");
  hf_json_text(json, "metal", coupon->metal);
  hf_json_text(json, "thickness", thickness);
  hf_json_text(json, "kerf", kerf);
  hf_json_text(json, "window drawn", window);
  for (guint i = 0; said[i] != NULL && said[i + 1] != NULL; i += 2)
    hf_json_text(json, said[i], said[i + 1]);
  hf_json_close(json);
  return hf_json_finish(json);
}

char *
hf_coupon_take_said(const char *text, gsize length, const char *file, const char *const *said,
                    char **told, GError **error)
{
  g_autoptr(HfCoupon) coupon = hf_coupon_of_recipe(text, length);
  if (coupon == NULL) {
    hf_error_set(error, HF_ERROR_BAD_VALUE, NULL, "make one: holdfast coupon",
                 "this is no coupon, or not as it was made");
    return NULL;
  }
  g_auto(HfUnitsScope) scope = hf_units_scope(units_of(text, length));
  g_autoptr(GBytes) bytes = results_text(coupon, said);
  gsize n;
  const char *data = g_bytes_get_data(bytes, &n);
  g_autofree char *results = g_strndup(data, n);
  return hf_coupon_take_text(results, file, NULL, told, error);
}
