# Maximum likelihood of a normal distribution with censored readings, and profile likelihood intervals (chi-squared, 95 %).
# Run in the folder of the data: Rscript lot_censored.R > lot_censored_fit.csv
# mean, sd, loglik: survreg of package survival. Intervals: pnorm and dnorm with optimize and uniroot of base R.
suppressPackageStartupMessages(library(survival))
d <- read.csv("lot_censored_data.csv", comment.char = "#", stringsAsFactors = FALSE)
cat(sprintf("# Censored normal fits of lot_censored_data.csv; R %s.%s, survival %s; Rscript lot_censored.R\n",
            R.version$major, R.version$minor, packageVersion("survival")))
cat("case,mean,sd,loglik,mean_low,mean_high,sd_low,sd_high\n")
for (case in unique(d$case)) {
  low <- high <- numeric(0)
  for (i in which(d$case == case)) {
    v <- as.numeric(strsplit(d$values[i], " ")[[1]])
    low <- c(low, if (d$state[i] == "below") rep(NA, length(v)) else v)
    high <- c(high, if (d$state[i] == "above") rep(NA, length(v)) else v)
  }
  fit <- survreg(Surv(low, high, type = "interval2") ~ 1, dist = "gaussian",
                 control = survreg.control(rel.tolerance = 1e-13, maxiter = 500))
  m <- unname(coef(fit)); s <- fit$scale
  ll <- function(mu, sigma) sum(ifelse(is.na(low), pnorm(high, mu, sigma, log.p = TRUE),
    ifelse(is.na(high), pnorm(low, mu, sigma, lower.tail = FALSE, log.p = TRUE), dnorm(low, mu, sigma, log = TRUE))))
  best <- ll(m, s); cut <- qchisq(0.95, 1)
  overMean <- function(mu) optimize(function(t) ll(mu, exp(t)), c(-8, 8), maximum = TRUE, tol = 1e-10)$objective
  overSD <- function(t) optimize(function(mu) ll(mu, exp(t)), m + c(-40, 40) * exp(t), maximum = TRUE, tol = 1e-10)$objective
  gapM <- function(mu) 2 * (best - overMean(mu)) - cut
  gapS <- function(t) 2 * (best - overSD(t)) - cut
  reach <- function(f, from, step) { x <- from + step; while (f(x) < 0) { step <- 2 * step; x <- x + step }; x }
  zero <- function(f, a, b) uniroot(f, sort(c(a, b)), tol = 1e-10)$root
  cat(sprintf("%s,%.8f,%.8f,%.8f,%.6f,%.6f,%.6f,%.6f\n", case, m, s, best,
    zero(gapM, m, reach(gapM, m, -s)), zero(gapM, m, reach(gapM, m, s)),
    exp(zero(gapS, log(s), reach(gapS, log(s), -0.1))), exp(zero(gapS, log(s), reach(gapS, log(s), 0.1)))))
}
