#include "core/session/events.hpp"

namespace hangtime {

Facts::Facts() = default;
Facts::Facts(const Facts&) = default;
Facts::Facts(Facts&&) noexcept = default;
Facts& Facts::operator=(const Facts&) = default;
Facts& Facts::operator=(Facts&&) noexcept = default;
Facts::~Facts() = default;

}  // namespace hangtime
