# curve-peers.R: other smoothers on the runs that curve-sim wrote, and the table of how all fare
#
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Rscript curve-peers.R FOLDER [--quick]   (--quick leaves the peers out)
suppressMessages (library (mgcv))
arguments <- commandArgs (trailingOnly = TRUE)
folder <- arguments[1]
quick <- "--quick" %in% arguments
runs <- read.csv (file.path (folder, "runs.csv"))

merge_ties <- function (x, y, w)
{
  by <- split (seq_along (x), x)
  list (x = as.numeric (vapply (by, function (i) x[i[1]], 0)),
        y = vapply (by, function (i) sum (w[i] * y[i]) / sum (w[i]), 0, USE.NAMES = FALSE),
        w = vapply (by, function (i) sum (w[i]), 0, USE.NAMES = FALSE))
}

isotonic <- function (s, at)
{
  m <- merge_ties (s$x, s$y, s$w)
  if (length (m$x) < 2) return (rep (m$y[1], length (at)))
  fit <- -isoreg (m$x, -m$y)$yf
  clamped <- pmin (pmax (at, min (m$x)), max (m$x))
  splinefun (m$x, fit, method = "monoH.FC") (clamped)
}

monotone <- function (s, at)
{
  n <- length (unique (s$x))
  k <- min (20, n)
  if (k < 4) return (NULL)
  unconstrained <- gam (y ~ s (x, k = k, bs = "cr"), data = s, weights = s$w)
  sm <- smoothCon (s (x, k = k, bs = "cr"), s, knots = NULL)[[1]]
  F <- mono.con (sm$xp, up = FALSE)
  G <- list (X = sm$X, C = matrix (0, 0, 0), sp = unconstrained$sp, p = -sm$xp, y = s$y,
             w = s$w, Ain = F$A, bin = F$b, S = sm$S, off = 0)
  p <- pcls (G)
  as.numeric (Predict.matrix (sm, data.frame (x = at)) %*% p)
}

spline_gcv <- function (s, at)
{
  if (length (unique (s$x)) < 4) return (NULL)
  predict (smooth.spline (s$x, s$y, s$w, cv = FALSE), at)$y
}

spline_left_out <- function (s, at)
{
  m <- merge_ties (s$x, s$y, s$w)
  if (length (m$x) < 4) return (NULL)
  predict (smooth.spline (m$x, m$y, m$w, cv = TRUE), at)$y
}

attempt <- function (f, s, at) tryCatch (suppressWarnings (f (s, at)), error = function (e) NULL)

if (!quick)
{
  spots <- split (read.csv (file.path (folder, "spots.csv")), ~ run)
  truths <- split (read.csv (file.path (folder, "truth.csv")), ~ run)
  peers <- t (mapply (function (s, t) {
    s$w <- if (all (s$se > 0)) 1 / s$se^2 else rep (1, nrow (s))
    s$w <- s$w / mean (s$w)
    vapply (list (isotonic, monotone, spline_gcv, spline_left_out), function (f) {
      fit <- attempt (f, s, t$x)
      if (is.null (fit)) NA else sqrt (mean ((fit - t$truth)^2))
    }, 0)
  }, spots, truths))
  best <- apply (peers[, 1:3], 1, min, na.rm = TRUE)
  ratio <- runs$rmse / best
  cat (sprintf ("error over the best of three peers: median %.3f, 90 %% %.3f\n",
                median (ratio), quantile (ratio, 0.9)))
  names <- c ("isotonic + cubic", "mgcv monotone", "spline by GCV", "spline by leave-one-out")
  for (i in 1:4)
    cat (sprintf ("error over %s: median %.3f\n", names[i],
                  median (runs$rmse / peers[, i], na.rm = TRUE)))
  by_kind <- tapply (ratio, runs$name, median)
  cat (paste0 ("  ", names (by_kind), sprintf (" %.2f", by_kind), collapse = "\n"), "\n")
  cat ("by spots:", paste (names (tapply (ratio, runs$n, median)), sprintf ("%.2f", tapply (ratio, runs$n, median))), "\n")
}
cat (sprintf ("noise: found over true, median %.2f\n", median (runs$noise_found / runs$noise)))
cat (sprintf ("band covers %.3f of the curves\n", mean (runs$covered)))
cat (sprintf ("outliers: precision %.3f, recall %.3f\n", sum (runs$right) / sum (runs$named),
              sum (runs$right) / sum (runs$strays)))
falls <- runs$rise == 0
cat (sprintf ("rises invented: %.3f of %d falling runs\n", mean (runs$rising[falls]), sum (falls)))
big <- runs$rise > 3 * runs$noise
enough <- big & runs$n >= 12 & runs$after >= 3
cat (sprintf ("rises over 3 noises found: %.3f of %d; with 12 spots and 3 after the core %.3f of %d\n",
              mean (runs$rising[big]), sum (big), mean (runs$rising[enough]), sum (enough)))
found <- enough & runs$rising == 1
off <- abs (runs$core_found - runs$core)[found]
cat (sprintf ("core shadow: error median %.3f, 90 %% %.3f; its range covers %.3f, width %.3f\n",
              median (off), quantile (off, 0.9),
              mean ((runs$core >= runs$core_low & runs$core <= runs$core_high)[found]),
              median ((runs$core_high - runs$core_low)[found])))
one <- runs$kind %in% c (0, 1, 9, 11) & runs$terminator_found >= 0
cat (sprintf ("terminator: error median %.3f; its range covers %.3f, width %.3f (%d runs)\n",
              median (abs (runs$terminator_found - runs$terminator)[one]),
              mean ((runs$terminator >= runs$terminator_low & runs$terminator <= runs$terminator_high)[one]),
              median ((runs$terminator_high - runs$terminator_low)[one]), sum (one)))
cat (sprintf ("sound: %.3f; ms a fit: %s\n", mean (runs$sound),
              paste (names (tapply (runs$ms, runs$n, median)),
                     sprintf ("%.2f", tapply (runs$ms, runs$n, median)), collapse = ", ")))
