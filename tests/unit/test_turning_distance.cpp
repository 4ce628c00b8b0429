#include <doctest/doctest.h>

#include <string>

#include "render/answer_words.hpp"
#include "render/document.hpp"
#include "support/page_text.hpp"
#include "support/sample_weighing.hpp"

using namespace mendworth;

TEST_CASE("from nothing, the distance to a turning value has the digits of that value") {
  Weighing w;
  w.break_evens = {{.key = "labour.rate_per_hour",
                    .label = "labour rate (EUR an hour)",
                    .current = 0,
                    .low = 0,
                    .high = 500,
                    .values = {62.51},
                    .saving_low = 46,
                    .saving_high = -300,
                    .intervals = {{.low = 60.2, .high = 64.9}}}};
  Document page;
  page.sections = {break_even_section(w)};
  const std::string text = testing::unwrapped(document_text(page, {}));
  CHECK(testing::contains(text, "0 63 (60 to 65) +63 "));
}
