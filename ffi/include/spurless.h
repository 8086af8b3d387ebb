#ifndef SPURLESS_H
#define SPURLESS_H

/* Written by spurless-header from ffi/src. Do not edit: run `tests/run header --write`. */

#include <stdint.h>
#include <stddef.h>

#endif  /* SPURLESS_H */
