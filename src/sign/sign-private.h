/* SPDX-License-Identifier: GPL-3.0-or-later
 * sign-private.h - what the files of sign/ share.
 */
#pragma once
#include "sign/sign.h"

/** hf_sign_beside: (transfer full) shares recipe, shop and fonts of @of; the rest is to be filled.
 */
HfSign *hf_sign_beside(const HfSign *of);
/** hf_sign_same_again: (transfer full) shares all of @sign but what its rules came to. */
HfSign *hf_sign_same_again(const HfSign *sign);
/** hf_sign_make_and_check: of a sign that has its layout, and its metal or not. */
gboolean hf_sign_make_and_check(HfSign *sign, HfSignUse use, const HfCancel *cancel,
                                GError **error);
/** hf_sign_layers_fitted: (transfer full) hf_sign_fitted() of a sign of several layers. */
HfSign *hf_sign_layers_fitted(const HfSign *sign);
