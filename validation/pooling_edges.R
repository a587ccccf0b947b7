# Writes tests/reference/meta_edges.json: what metafor answers at the edges of pooling. Debian: r-base-core, r-cran-metafor.
# Rscript validation/pooling_edges.R > tests/reference/meta_edges.json
suppressPackageStartupMessages(library(metafor))
number <- function(x) paste(formatC(x, digits = 13, format = "g"), collapse = ", ")
entry <- function(name, values) sprintf('    "%s": [%s]', name, number(values))
object <- function(...) paste0("{\n", paste(c(...), collapse = ",\n"), "\n  }")

ties <- list(
  c(0.1, 0.1, 0.3, 0.3, 0.5, 0.9, 0.9), c(-0.2, 0.2, 0.2, 0.2, 0.6, 0.6, 1, 1, 1),
  c(0, 0, 0, 0.4, 0.4, 0.8, 0.8, 1.2), c(0.5, 0.5, 0.5, 0.5, 0.1, 0.9, 0.9, 1.3, 1.3, 1.3)
)
tied <- sapply(seq_along(ties), function(i) {
  y <- ties[[i]]; v <- 0.02 + 0.1 * abs(y) + 0.01 * (seq_along(y) %% 3)
  t <- trimfill(rma(y, v, method = "DL"))
  sprintf('  {"y": [%s], "v": [%s], "missing": %d, "side": "%s", "estimate": %s}', number(y), number(v), t$k0, t$side, number(t$b))
})

d <- dat.bcg
d <- escalc("RR", ai = tpos, bi = tneg, ci = cpos, di = cneg, data = d)
pet <- lm(yi ~ sqrt(vi), weights = 1 / vi, data = d)
peese <- lm(yi ~ vi, weights = 1 / vi, data = d)
line <- function(fit) object(entry("intercept", coef(summary(fit))[1, ]), entry("slope", coef(summary(fit))[2, ]))

s <- dat.konstantopoulos2011
s$area <- ifelse(s$district < 100, "a", ifelse(s$district < 300, "b", ifelse(s$district < 640, "c", "d")))
three <- rma.mv(yi, vi, random = ~ 1 | area / district / school, data = s)
mods <- rma.mv(yi, vi, mods = ~ I(year - 1990), random = ~ 1 | district / school, data = s)
v <- vcalc(vi, cluster = district, obs = school, rho = 0.5, data = s)
shared <- rma.mv(yi, v, random = ~ 1 | district / school, data = s)
cat("{\n", '"source": "R ', as.character(getRversion()), ", metafor ", as.character(packageVersion("metafor")),
    '; dat.bcg (Colditz et al. 1994), dat.konstantopoulos2011 (Konstantopoulos 2011); groups and tied effects invented",\n',
    '"columns": {"area": [', paste0('"', s$area, '"', collapse = ", "), "]},\n",
    '"expected": {"ties": [\n', paste(tied, collapse = ",\n"), "\n],\n",
    '"pet": ', line(pet), ',\n"peese": ', line(peese), ",\n",
    '"groups": ', object(entry("b", three$b), entry("se", three$se), entry("sigma2", three$sigma2), entry("logLik", logLik(three))), ",\n",
    '"moderator": ', object(entry("b", mods$b), entry("se", mods$se), entry("sigma2", mods$sigma2), entry("QE", mods$QE),
                             entry("QM", mods$QM), entry("QMp", mods$QMp)), ",\n",
    '"correlated": ', object(entry("b", shared$b), entry("se", shared$se), entry("sigma2", shared$sigma2)), "}}\n", sep = "")
