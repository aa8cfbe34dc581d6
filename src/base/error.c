/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "base/seen.h"

typedef struct {
  char *where;
  char *fix;
} HfErrorPrivate;

static void
hf_error_private_init(HfErrorPrivate *priv)
{
  priv->where = priv->fix = NULL;
}

static void
hf_error_private_copy(const HfErrorPrivate *from, HfErrorPrivate *to)
{
  to->where = g_strdup(from->where);
  to->fix = g_strdup(from->fix);
}

static void
hf_error_private_clear(HfErrorPrivate *priv)
{
  g_free(priv->where);
  g_free(priv->fix);
}

G_DEFINE_EXTENDED_ERROR(HfError, hf_error)

void
hf_error_set(GError **error, HfErrorKind kind, const char *where, const char *fix,
             const char *format, ...)
{
  if (error == NULL)
    return;
  va_list args;
  va_start(args, format);
  g_autofree char *said = g_strdup_vprintf(format, args);
  va_end(args);
  /* what is quoted in here may be anybody's */
  g_autofree char *what = hf_seen_message(said, TRUE);
  g_autofree char *place = hf_seen_place(where), *remedy = hf_seen_message(fix, FALSE);
  g_autoptr(GString) text = g_string_new(NULL);
  if (place != NULL)
    g_string_append_printf(text, "%s: ", place);
  g_string_append(text, what);
  if (remedy != NULL)
    g_string_append_printf(text, "; %s", remedy);
  GError *made = g_error_new_literal(HF_ERROR, (int)kind, text->str);
  HfErrorPrivate *priv = hf_error_get_private(made);
  priv->where = g_steal_pointer(&place);
  priv->fix = g_steal_pointer(&remedy);
  g_propagate_error(error, made);
}

const char *
hf_error_where(const GError *error)
{
  return error != NULL && error->domain == HF_ERROR ? hf_error_get_private(error)->where : NULL;
}

const char *
hf_error_fix(const GError *error)
{
  return error != NULL && error->domain == HF_ERROR ? hf_error_get_private(error)->fix : NULL;
}

int
hf_error_exit_code(const GError *error)
{
  if (error->domain != HF_ERROR)
    return 3;
  switch ((HfErrorKind)error->code) {
  case HF_ERROR_BAD_VALUE:
  case HF_ERROR_NOT_FOUND:
  case HF_ERROR_NO_ROOM:
  case HF_ERROR_TOO_BIG:
  case HF_ERROR_BAD_FONT:
    return 2;
  case HF_ERROR_CANCELLED:
    return 130;
  case HF_ERROR_IO:
  case HF_ERROR_BUG:
    break;
  }
  return 3;
}
