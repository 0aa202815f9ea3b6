import type { NetworkInterfaceInfo } from 'node:os'

export interface NetworkAddress {
  /** Dotted IPv4. */
  readonly address: string
  /** The interface's name. */
  readonly by: string
}

/** Interfaces of virtual machines, containers and tunnels: other devices in the shop do not reach them. */
const VIRTUAL =
  /^(docker|br-|veth|virbr|vmnet|vboxnet|vethernet|utun|tun|tap|wg|zt|ham|lxc|cni|flannel|awdl|llw)/i

/**
 * The IPv4 addresses at which other devices may reach this machine, the likeliest first: those of a real network before
 * those of virtual ones, and an address that nobody gave out (169.254…) last.
 */
export function networkAddresses(
  interfaces: Readonly<Record<string, readonly NetworkInterfaceInfo[] | undefined>>,
): readonly NetworkAddress[] {
  const found = Object.entries(interfaces).flatMap(([by, infos]) =>
    (infos ?? []).filter(i => i.family === 'IPv4' && !i.internal).map(i => ({ address: i.address, by })),
  )
  const rank = ({ address, by }: NetworkAddress) =>
    (address.startsWith('169.254.') ? 2 : 0) + (VIRTUAL.test(by) ? 1 : 0)
  return found.sort((a, b) => rank(a) - rank(b))
}
