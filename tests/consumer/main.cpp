// A program outside the project that uses the installed library from a case to a verdict.
#include <cstdio>
#include <exception>

#include <mendworth/rates.hpp>
#include <mendworth/read_case.hpp>
#include <mendworth/render.hpp>
#include <mendworth/weigh.hpp>

int main() {
  try {
    const mendworth::RateBook& rates = mendworth::built_in_rates();
    const mendworth::Case c = mendworth::read_case(mendworth::starter_case(false), "starter.toml", rates);
    mendworth::WeighSettings settings;
    settings.futures = 1000;
    const mendworth::Weighing w = mendworth::weigh(c, rates, settings);
    std::fputs(mendworth::weighing_page(w, {}).c_str(), stdout);
    return w.options.empty() ? 1 : 0;
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 1;
  }
}
