/** The plate heat exchanger: effectiveness–NTU, log mean difference, heat balance and what they give. */
package io.loopwarden.exchanger;
